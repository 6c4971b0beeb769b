// Molar masses and what follows from them: nothing is lost when starch becomes sugar and sugar becomes ethanol and carbon dioxide.

#include <cmath>
#include <ferment/core/stoichiometry.hpp>

#include "catch.hpp"

using ferment::stoichiometry;

TEST_CASE("stoichiometry: molar masses as handbooks print them", "[core][stoichiometry][published]") {
    // CRC Handbook of Chemistry and Physics, physical constants of organic and inorganic compounds, from memory; its atomic weights have a digit more.
    constexpr double last_digit = 1.0e-3 + 1e-9;  // g/mol
    CHECK(std::abs(stoichiometry::water - 18.015) <= last_digit);
    CHECK(std::abs(stoichiometry::carbon_dioxide - 44.010) <= last_digit);
    CHECK(std::abs(stoichiometry::ethanol - 46.068) <= last_digit);
    CHECK(std::abs(stoichiometry::glucose - 180.155) <= last_digit);
    CHECK(std::abs(stoichiometry::disaccharide - 342.296) <= last_digit);
}

TEST_CASE("stoichiometry: mass is kept", "[core][stoichiometry][identity]") {
    constexpr double round_off = 1e-12;
    CHECK(std::abs(stoichiometry::anhydroglucose + stoichiometry::water - stoichiometry::glucose) <= round_off);
    CHECK(std::abs(stoichiometry::disaccharide + stoichiometry::water - 2.0 * stoichiometry::glucose) <= round_off);
    CHECK(std::abs(2.0 * stoichiometry::ethanol + 2.0 * stoichiometry::carbon_dioxide - stoichiometry::glucose) <= round_off);
    CHECK(std::abs(stoichiometry::ethanol_per_glucose + stoichiometry::co2_per_glucose - 1.0) <= round_off);
    CHECK(std::abs(stoichiometry::glucose_per_starch - stoichiometry::water_per_starch - 1.0) <= round_off);
    CHECK(std::abs(stoichiometry::ethanol_per_starch - 2.0 * stoichiometry::ethanol / stoichiometry::anhydroglucose) <= round_off);
    CHECK(std::abs(stoichiometry::glucose_per_monohydrate - 180.156 / 198.171) <= 1e-6);
}
