#include <ferment/core/error.hpp>
#include <limits>
#include <string>

#include "catch.hpp"

using ferment::require_inside;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

std::string message_of(const double value, const ferment::num::interval range, const std::string& unit = "degC", const std::string& why = "why") {
    try {
        require_inside("temperature", value, unit, range, why);
    } catch (const ferment::RangeError& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("a range error names quantity, value, unit, range and source", "[core][error]") {
    CHECK(message_of(120.0, {0.0, 100.0}) == "temperature 120 degC is outside 0 to 100 degC (why)");
    CHECK(message_of(-1.0, {0.0, infinity}) == "temperature -1 degC is below the lowest allowed, 0 degC (why)");
    CHECK(message_of(9.0, {-infinity, 8.5}) == "temperature 9 degC is above the highest allowed, 8.5 degC (why)");
    CHECK(message_of(1.2, {0.9, 1.13}, "", "") == "temperature 1.2 is outside 0.9 to 1.13");
}

TEST_CASE("both ends of a range and NaN pass, infinities do not", "[core][error][edges]") {
    CHECK(message_of(0.0, {0.0, 100.0}).empty());
    CHECK(message_of(-0.0, {0.0, 100.0}).empty());
    CHECK(message_of(100.0, {0.0, 100.0}).empty());
    CHECK(message_of(std::numeric_limits<double>::quiet_NaN(), {0.0, 100.0}).empty());
    CHECK(message_of(infinity, {0.0, 100.0}) == "temperature inf degC is outside 0 to 100 degC (why)");
    CHECK(message_of(-infinity, {0.0, 100.0}) == "temperature -inf degC is outside 0 to 100 degC (why)");
}

TEST_CASE("every error of the library can be caught as one", "[core][error]") {
    CHECK_THROWS_AS(throw ferment::RangeError("x"), ferment::Error);
    CHECK_THROWS_AS(throw ferment::InputError("x"), ferment::Error);
    CHECK_THROWS_AS(throw ferment::SolveError("x"), ferment::Error);
}
