#include <cmath>
#include <ferment/core/quantity.hpp>
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
