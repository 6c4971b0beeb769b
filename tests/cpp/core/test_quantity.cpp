#include <cmath>
#include <ferment/core/quantity.hpp>
#include <set>
#include <string>
#include <type_traits>

#include "catch.hpp"

using namespace ferment;

TEST_CASE("percent at the edge, fractions inside", "[core][quantity]") {
    const abv<> strength = 40.0 * percent_vol;
    CHECK(std::abs(strength.value() - 0.40) <= 1e-16);
    CHECK(std::abs(value_in(strength, percent_vol) - 40.0) <= 1e-14);
    CHECK(std::abs(value_in(12.0 * degree_plato, degree_plato) - 12.0) <= 1e-14);
    CHECK(value_in(100.0 * us_proof_degree, us_proof_degree) == 100.0);
    CHECK(std::abs(value_in(3.0 * litre, litre) - 3.0) <= 1e-15);
}

TEST_CASE("a gram per litre is a kilogram per cubic metre, and mass over volume is a density", "[core][quantity]") {
    CHECK(gram_per_litre == kilogram_per_cubic_metre);
    const density<> spirit = 0.948 * kilogram / (1.0 * litre);
    CHECK(std::abs(spirit.value() - 948.0) <= 1e-12);
}

TEST_CASE("each reference temperature makes a gravity of its own type", "[core][quantity]") {
    STATIC_REQUIRE(!std::is_same_v<gravity<at_20_20>, gravity<at_60f_60f>>);
    STATIC_REQUIRE(!std::is_same_v<gravity<at_20_20>, gravity<at_20_4>>);
    STATIC_REQUIRE(std::is_same_v<gravity<at_20_20>, specific_gravity<>>);
    STATIC_REQUIRE(!std::is_same_v<abv<>, abw<>>);
    STATIC_REQUIRE(!std::is_convertible_v<double, abv<>>);
}

TEST_CASE("the difference of two temperature points is no point", "[core][quantity]") {
    const celsius<> warm = 20.0 * degree_celsius;
    const celsius<> cold = 4.0 * degree_celsius;
    CHECK((warm - cold).value() == 16.0);
    STATIC_REQUIRE(!std::is_same_v<decltype(warm - cold), celsius<>>);
    CHECK(std::abs(sixty_fahrenheit_c - 15.5555555555555) <= 1e-12);
}

TEST_CASE("units have names of their own", "[core][quantity]") {
    const std::set<std::string> names{
        abv_unit::name(), abw_unit::name(), extract_unit::name(), us_proof_unit::name(), gravity_unit<at_20_20>::name(), gravity_unit<at_60f_60f>::name()};
    const std::set<std::string> symbols{abv_unit::symbol(),
                                        abw_unit::symbol(),
                                        extract_unit::symbol(),
                                        us_proof_unit::symbol(),
                                        gravity_unit<at_20_20>::symbol(),
                                        gravity_unit<at_60f_60f>::symbol()};
    CHECK(names.size() == 6);
    CHECK(symbols.size() == 6);
    CHECK(names.count("specific gravity 20/20") == 1);
    CHECK(symbols.count("SG 60/60F") == 1);
}
