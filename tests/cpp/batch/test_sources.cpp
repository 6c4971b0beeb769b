// Where every number comes from, in one list.

#include <array>
#include <ferment/core/source.hpp>
#include <ferment/sources.hpp>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "catch.hpp"

using namespace ferment;

TEST_CASE("sources: each says what it gives, who says so, where it holds and how well", "[batch][sources]") {
    const std::vector<listed_source> all = sources();
    CHECK(all.size() >= 80);
    std::set<std::string_view> names;
    for (const listed_source& s : all) {
        CAPTURE(std::string(s.from.name));
        CHECK_FALSE(s.from.name.empty());
        CHECK_FALSE(s.from.quantity.empty());
        CHECK_FALSE(s.from.citation.empty());
        CHECK_FALSE(s.from.range.empty());
        CHECK_FALSE(s.from.uncertainty.empty());
        CHECK(names.insert(s.from.name).second);  // listed once
        // What the citation admits, the status says.
        if (s.from.citation.find("common practice, no source") == 0) CHECK(s.from.status == source_status::common_practice);
    }
}

TEST_CASE("sources: folders stand in the order of the includes", "[batch][sources]") {
    const std::array<std::string_view, 9> order{"core", "liquid", "instrument", "strength", "mash", "fermentation", "still", "proofing", "batch"};
    std::size_t at = 0;
    for (const listed_source& s : sources()) {
        while (at < order.size() && order[at] != s.folder) ++at;
        REQUIRE(at < order.size());
    }
    CHECK(at == order.size() - 1);
}

TEST_CASE("sources: how far a source could be checked, in words", "[core][sources]") {
    CHECK(to_string(source_status::verified) == "verified");
    CHECK(to_string(source_status::secondary) == "secondary");
    CHECK(to_string(source_status::from_memory) == "from memory");
    CHECK(to_string(source_status::common_practice) == "common practice, no source");
}
