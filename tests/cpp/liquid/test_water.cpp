#include <ferment/liquid/water.hpp>

#include "checks.hpp"

using ferment::degree_celsius;
using ferment::iapws_sr6;
using ferment::water_density;
using namespace ferment_test;

namespace {

// How far the sources say they are apart, kg/m3.
constexpr double fourth_decimal = 0.5e-4 + 1e-9;  // half the last printed digit
constexpr double release = 0.0008;                // the IAPWS release at 0.1 MPa against IAPWS-95 at 101.325 kPa: pressure and fit
constexpr double tanaka = 0.001;                  // uncertainty of Tanaka 2001
constexpr double bettin = 0.006;                  // uncertainty of Bettin and Spieweck 1990
constexpr double kell = 0.016;                    // Kell 1975 at 100 degC, on the older temperature scale

double density(const double t) {
    return water_density(t * degree_celsius).value();
}

Worst against(const std::string& column) {
    Worst worst;
    for (const Row& row : read_table("ethanol_water/water_density_0_100C.csv")) {
        if (row.has(column)) worst.add(density(row.number("t_C")) - row.number(column), row.line());
    }
    return worst;
}

}  // namespace

TEST_CASE("water has the density of the IAPWS release", "[liquid][water][published]") {
    const Worst worst = against("IAPWS_SR6_0_1MPa");
    CAPTURE(worst.line);
    CHECK(worst.value <= fourth_decimal);
}

TEST_CASE("water agrees with the other published formulations within their uncertainty", "[liquid][water][published]") {
    SECTION("IAPWS-95 at 101.325 kPa") {
        const Worst worst = against("IAPWS95_101325Pa");
        CAPTURE(worst.line);
        CHECK(worst.value <= release);
    }
    SECTION("Tanaka 2001") {
        const Worst worst = against("Tanaka2001");
        CAPTURE(worst.line);
        CHECK(worst.value <= tanaka);
    }
    SECTION("Bettin and Spieweck 1990") {
        const Worst worst = against("BettinSpieweck1990");
        CAPTURE(worst.line);
        CHECK(worst.value <= bettin);
    }
    SECTION("Kell 1975") {
        const Worst worst = against("Kell1975_IPTS68");
        CAPTURE(worst.line);
        CHECK(worst.value <= kell);
    }
}

TEST_CASE("water from 0 to 15 degC by tenths agrees with the CRC Handbook, 53rd ed.", "[liquid][water][published]") {
    constexpr double table = 0.004;  // kg/m3, the table against Tanaka 2001
    Worst worst;
    for (const Row& row : read_table("ethanol_water/water_density_crc53_0_15C.csv")) {
        worst.add(density(row.number("t_C")) - 1000.0 * row.number("density_g_mL"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= table + tanaka);
}

TEST_CASE("water has the densities printed in reference tables", "[liquid][water][published]") {
    for (const Row& row : read_table("ethanol_water/water_density_published_points.csv")) {
        const double t = row.number("t_C");
        const double rho = row.number("rho_kg_m3");
        const std::string source = row.text("source");
        CAPTURE(t, rho, source);
        if (source == "c") {  // supercooled: refused, not extrapolated
            CHECK(std::isnan(iapws_sr6::density(t)));
            CHECK_THROWS_AS(density(t), ferment::RangeError);
        } else if (source == "b" || t == 40.0) {  // printed to 0.1, of the generation of Kell 1975: 958.4 at 100 degC, where IAPWS-95 has 958.349
            CHECK(std::abs(density(t) - rho) <= 0.05 + kell);
        } else if (source == "d") {  // measured, standard uncertainty 0.0006, at 101.325 kPa
            CHECK(std::abs(density(t) - rho) <= 2.0 * 0.0006 + release);
        } else {  // below 15 degC the values are of an older generation, up to 0.003 lower
            CHECK(std::abs(density(t) - rho) <= (t < 15.0 ? 0.003 : 0.002));
        }
    }
}

TEST_CASE("water is heaviest where Tanaka 2001 says, and only there", "[liquid][water][identity]") {
    constexpr double heaviest_c = 3.983035;  // a1 of Tanaka 2001
    constexpr double heaviest = 999.974950;  // a5 of Tanaka 2001, kg/m3
    CHECK(std::abs(density(heaviest_c) - heaviest) <= tanaka);
    double best = 0.0;
    constexpr double step = 1e-3;
    for (int i = 0; i <= 10000; ++i) {
        const double t = step * i;
        if (density(t) > density(best)) best = t;
    }
    CAPTURE(best);
    CHECK(std::abs(best - heaviest_c) <= 0.01);
    for (int i = 0; i < 100; ++i) {
        CAPTURE(i);
        if (i >= 4) {
            CHECK(density(i + 1.0) < density(i));
        } else if (i <= 2) {
            CHECK(density(i + 1.0) > density(i));
        }
    }
}

TEST_CASE("water: both ends belong to the range, the next number beyond does not", "[liquid][water][edges]") {
    for (const double end : {iapws_sr6::t_range.lower, iapws_sr6::t_range.upper}) {
        CAPTURE(end);
        CHECK(std::isfinite(iapws_sr6::density(end)));
        CHECK(density(end) == iapws_sr6::density(end));
    }
    CHECK(density(-0.0) == density(0.0));
    for (const double outside : {below(0.0), above(100.0), -10.0, 101.0, infinity, -infinity}) {
        CAPTURE(outside);
        CHECK(std::isnan(iapws_sr6::density(outside)));
        CHECK_THROWS_AS(density(outside), ferment::RangeError);
    }
    CHECK(std::isnan(iapws_sr6::density(not_a_number)));
    CHECK(std::isnan(density(not_a_number)));
}

TEST_CASE("water: the error names quantity, value, unit, range and source", "[liquid][water][edges]") {
    check_refused([] { density(100.5); }, "temperature 100.5 degC is outside 0 to 100 degC (IAPWS SR6-08(2011)");
}

TEST_CASE("water: eight lanes give what eight scalars give", "[liquid][water][lanes]") {
    check_lanes([](const auto& t) { return iapws_sr6::density(t); }, Eight{0.0, 3.98, 20.0, 55.5, 100.0, -0.1, 100.1, not_a_number});
}
