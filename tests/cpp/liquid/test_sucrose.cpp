#include <algorithm>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/water.hpp>

#include "checks.hpp"

using ferment::crc_glucose;
using ferment::degree_celsius;
using ferment::degree_plato;
using ferment::icumsa_sps4;
using ferment::kilogram_per_cubic_metre;
using ferment::sucrose_density;
using namespace ferment_test;

namespace {

constexpr double g_cm3 = 1000.0;  // kg/m3

/// Density at a percentage and a temperature, by the typed door.
double density(const double percent, const double t) {
    return sucrose_density(percent * degree_plato, t * degree_celsius).value();
}
double glucose(const double percent) {
    return ferment::glucose_density(percent * degree_plato).value();
}

/// How far tables on the Plato/NBS data may lie from the polynomial at 20 degC, kg/m3: 0.1 to 42 %, 0.15 to 50 %, 0.3 to 70 %. Both tables
/// have 0.1535 at 50 %, which is 0.15 to the two decimals of that figure.
double older_data_tolerance(const double percent) {
    constexpr double stated_to = 0.005;
    if (percent <= 42.0) return 0.1;
    return percent <= 50.0 ? 0.15 + stated_to : 0.3;
}

/// Checks a density column against the polynomial; rows beyond its range must be refused.
void check_older_data(const std::string& table, const std::string& column, const double unit) {
    Worst low;
    Worst middle;
    Worst high;
    for (const Row& row : read_table(table)) {
        const double percent = row.number("mass_pct");
        if (percent > 70.0) {
            CHECK_THROWS_AS(density(percent, 20.0), ferment::RangeError);
            continue;
        }
        Worst& worst = percent <= 42.0 ? low : percent <= 50.0 ? middle : high;
        worst.add(density(percent, 20.0) - unit * row.number(column), row.line());
    }
    CAPTURE(low.line, middle.line, high.line);
    CHECK(low.value <= older_data_tolerance(42.0));
    CHECK(middle.value <= older_data_tolerance(50.0));
    CHECK(high.value <= older_data_tolerance(70.0));
}

/// Laliberte 2009: an independent density model on other data (82 points of sucrose).
struct Laliberte2009 {
    double c0, c1, c2, c3, c4;

    static Laliberte2009 read() {
        for (const Row& row : read_table("sugar_solutions/laliberte2009_coefficients.csv")) {
            if (row.text("solute") == "sucrose") {
                return {row.number("c0"), row.number("c1"), row.number("c2"), row.number("c3"), row.number("c4")};
            }
        }
        throw std::runtime_error("no row for sucrose");
    }
    [[nodiscard]] double density(const double w, const double t) const {
        const double water =
            (((((-2.8054253e-10 * t + 1.0556302e-7) * t - 4.6170461e-5) * t - 0.0079870401) * t + 16.945176) * t + 999.83952) / (1.0 + 0.01687985 * t);
        const double apparent = (c0 * w + c1) * std::exp(1e-6 * (t + c4) * (t + c4)) / (w + c2 + c3 * t);
        return 1.0 / ((1.0 - w) / water + w / apparent);
    }
};

}  // namespace

TEST_CASE("sucrose: the coefficients are those of the transcriptions, digit by digit", "[liquid][sucrose][published]") {
    const auto coefficient = [](const int power_t, const int power_w) {
        const auto i = static_cast<std::size_t>(power_w - 1);
        switch (power_t) {
            case 0: return icumsa_sps4::a.at(i);
            case 1: return icumsa_sps4::b.at(i);
            case 2: return icumsa_sps4::c.at(i);
            case 3: return icumsa_sps4::d.at(i);
            case 4: return icumsa_sps4::e.at(i);
            default: throw std::runtime_error("no such power of temperature");
        }
    };
    const std::vector<Row> rows = read_table("sugar_solutions/icumsa_sucrose_density_coefficients.csv");
    REQUIRE(rows.size() == 20);
    CHECK(icumsa_sps4::a.size() + icumsa_sps4::b.size() + icumsa_sps4::c.size() + icumsa_sps4::d.size() + icumsa_sps4::e.size() == rows.size());
    for (const Row& row : rows) {
        const std::string name = row.text("name");
        CAPTURE(name);
        CHECK(coefficient(static_cast<int>(row.number("power_T")), static_cast<int>(row.number("power_w"))) == row.number("coefficient_kg_m3"));
    }
}

TEST_CASE("sucrose: the water of the polynomial is that of Bettin and Spieweck 1990, digit by digit", "[liquid][sucrose][published]") {
    std::size_t checked = 0;
    for (const Row& row : read_table("ethanol_water/water_density_coefficients.csv")) {
        if (row.text("equation") != "bettin1990") continue;
        const std::string name = row.text("name");
        const double expected = name == "b" ? icumsa_sps4::water_denominator : icumsa_sps4::water_numerator.at(static_cast<std::size_t>(name.at(1) - '0'));
        CAPTURE(name);
        CHECK(expected == row.number("value"));
        ++checked;
    }
    CHECK(checked == icumsa_sps4::water_numerator.size() + 1);
}

TEST_CASE("sucrose: the water of the polynomial is up to 0.006 kg/m3 from IAPWS", "[liquid][sucrose][published]") {
    Worst worst;
    for (int t = 0; t <= 80; ++t) worst.add(icumsa_sps4::water(double(t)) - ferment::iapws_sr6::density(double(t)));
    CHECK(worst.value <= 0.006);  // the uncertainty Bettin and Spieweck state
    CHECK(density(0.0, 20.0) == icumsa_sps4::water(20.0));
}

TEST_CASE("sucrose: the grid evaluated from the coefficients", "[liquid][sucrose][published]") {
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/icumsa_sucrose_density_evaluated_grid.csv")) {
        worst.add(density(row.number("sucrose_mass_pct"), row.number("t_degC")) - row.number("rho_kg_m3"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 0.0005 + 1e-9);  // half the last printed digit
}

TEST_CASE("sucrose: tables of the CRC Handbook at 20 degC", "[liquid][sucrose][published]") {
    SECTION("102nd edition") {
        check_older_data("sugar_solutions/crc_20C_sucrose.csv", "density_g_cm3", g_cm3);
    }
    SECTION("an older edition, density") {
        check_older_data("sugar_solutions/crc_older_20C_sucrose_density.csv", "density_kg_m3", 1.0);
    }
    SECTION("an older edition, grams in a litre") {
        constexpr double column_round_off = 0.065;  // g/L, its own mass % times density against the column
        for (const Row& row : read_table("sugar_solutions/crc_older_20C_sucrose_density.csv")) {
            const double percent = row.number("mass_pct");
            if (percent > 70.0) continue;
            const double w = percent / 100.0;
            CAPTURE(percent);
            CHECK(std::abs(w * density(percent, 20.0) - row.number("g_per_L")) <= column_round_off + w * older_data_tolerance(percent));
        }
    }
}

TEST_CASE("sucrose: tables at 15, 18 and 20 degC", "[liquid][sucrose][published]") {
    SECTION("15 and 20 degC, to 37 %") {
        Worst at_15;
        Worst at_20;
        Worst grams;
        for (const Row& row : read_table("sugar_solutions/sucrose_density_15C_20C_percent_table.csv")) {
            const double percent = row.number("mass_pct");
            at_15.add(density(percent, 15.0) - row.number("density_15C_kg_m3"), row.line());
            at_20.add(density(percent, 20.0) - row.number("density_20C_kg_m3"), row.line());
            grams.add(percent / 100.0 * density(percent, 20.0) - row.number("kg_per_m3_20C"), row.line());
        }
        CAPTURE(at_15.line, at_20.line, grams.line);
        CHECK(at_15.value <= 0.1);
        CHECK(at_20.value <= 0.1);
        CHECK(grams.value <= 0.02 + 0.37 * 0.1);  // round-off of the column, and its density
    }
    SECTION("18 degC, to 40 %") {
        Worst worst;
        for (const Row& row : read_table("sugar_solutions/sucrose_density_18C.csv")) {
            worst.add(density(row.number("mass_pct"), 18.0) - g_cm3 * row.number("density_18C_g_cm3"), row.line());
        }
        CAPTURE(worst.line);
        CHECK(worst.value <= 0.12);
    }
}

TEST_CASE("sucrose: an independent model, Laliberte 2009, from 15 to 55 degC and 1 to 50 %", "[liquid][sucrose][published]") {
    const Laliberte2009 model = Laliberte2009::read();
    Worst worst;
    for (int percent = 1; percent <= 50; ++percent) {
        for (int t = 15; t <= 55; t += 5) worst.add(density(percent, t) - model.density(percent / 100.0, t));
    }
    CHECK(worst.value <= 0.3);
}

TEST_CASE("sucrose: mass of water in a glass pycnometer, European reference method", "[liquid][sucrose][published]") {
    // The factor rests on the water of the polynomial and on the cubic expansion of borosilicate glass, which is given as one of two values.
    Worst exact;
    Worst rounded;
    Worst iapws;
    for (const Row& row : read_table("sugar_solutions/borosilicate_pycnometer_water_factor.csv")) {
        const double t = row.number("t_degC");
        const auto factor = [t](const double water, const double glass) { return 1000.0 / water * (1.0 + glass * (20.0 - t)); };
        exact.add(factor(icumsa_sps4::water(t), 9.8e-6) - row.number("F_mL_per_g"), row.line());
        rounded.add(factor(icumsa_sps4::water(t), 10e-6) - row.number("F_mL_per_g"), row.line());
        iapws.add(factor(ferment::iapws_sr6::density(t), 9.8e-6) - row.number("F_mL_per_g"), row.line());
    }
    CAPTURE(exact.line, rounded.line, iapws.line);
    CHECK(exact.value <= 2.5e-6);
    CHECK(rounded.value <= 3.5e-6);
    CHECK(iapws.value <= 2.5e-6 + 4e-6);  // the two waters are up to 0.004 kg/m3 apart between 10 and 30 degC
}

TEST_CASE("maltose: the sucrose scale holds for the main sugar of a wort as well as its scattered table can tell", "[liquid][sucrose][published]") {
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/crc_20C_maltose.csv")) {
        const double percent = row.number("mass_pct");
        if (percent <= 50.0) worst.add(density(percent, 20.0) - g_cm3 * row.number("density_g_cm3"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 1.0);  // the column swings by that much against any smooth curve
}

TEST_CASE("glucose: CRC Handbook, 102nd ed., at 20 degC", "[liquid][glucose][published]") {
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/crc_20C_glucose.csv")) {
        const double percent = row.number("mass_pct");
        worst.add(glucose(percent) - g_cm3 * row.number("density_g_cm3"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 0.06);
}

TEST_CASE("glucose reads low on a sucrose scale", "[liquid][glucose][published]") {
    // From the same tables: 0.15 % low at 10 %, 0.3 % low at 20 %, each to the rounding of 0.05 kg/m3 (0.0125 % extract) in both columns.
    const auto reading = [](const double percent) {
        const auto rho = ferment::glucose_density(percent * degree_plato);
        return ferment::value_in(ferment::extract_from_density(rho, 20.0 * degree_celsius), degree_plato);
    };
    CHECK(std::abs(10.0 - reading(10.0) - 0.15) <= 0.025);
    CHECK(std::abs(20.0 - reading(20.0) - 0.30) <= 0.025);
}

TEST_CASE("sucrose: both ends belong to the range, the next number beyond does not", "[liquid][sucrose][edges]") {
    const double most = (70.0 * degree_plato).value();  // one digit above 0.70
    CHECK(icumsa_sps4::extract_range.upper == most);
    CHECK(std::isfinite(density(70.0, 20.0)));
    for (const double w : {0.0, -0.0, 0.70, most}) {
        for (const double t : {0.0, -0.0, 80.0}) {
            CAPTURE(w, t);
            CHECK(std::isfinite(icumsa_sps4::density(w, t)));
            CHECK(sucrose_density(ferment::extract<>::from_value(w), t * degree_celsius).value() == icumsa_sps4::density(w, t));
        }
    }
    CHECK(icumsa_sps4::density(-0.0, 20.0) == icumsa_sps4::density(0.0, 20.0));
    for (const double w : {below(0.0), above(most), infinity, -infinity}) {
        CAPTURE(w);
        CHECK(std::isnan(icumsa_sps4::density(w, 20.0)));
        CHECK_THROWS_AS(sucrose_density(ferment::extract<>::from_value(w), 20.0 * degree_celsius), ferment::RangeError);
    }
    for (const double t : {below(0.0), above(80.0), infinity, -infinity}) {
        CAPTURE(t);
        CHECK(std::isnan(icumsa_sps4::density(0.1, t)));
        CHECK(std::isnan(icumsa_sps4::extract_from_density(1040.0, t)));
        CHECK_THROWS_AS(density(10.0, t), ferment::RangeError);
        CHECK_THROWS_AS(ferment::extract_from_density(1040.0 * kilogram_per_cubic_metre, t * degree_celsius), ferment::RangeError);
    }
}

TEST_CASE("sucrose: NaN in, NaN out", "[liquid][sucrose][edges]") {
    CHECK(std::isnan(density(not_a_number, 20.0)));
    CHECK(std::isnan(density(10.0, not_a_number)));
    CHECK(std::isnan(icumsa_sps4::extract_from_density(not_a_number, 20.0)));
    CHECK(std::isnan(icumsa_sps4::extract_from_density(1040.0, not_a_number)));
    CHECK(std::isnan(ferment::extract_from_density(not_a_number * kilogram_per_cubic_metre, 20.0 * degree_celsius).value()));
    CHECK(std::isnan(ferment::extract_from_density(1040.0 * kilogram_per_cubic_metre, not_a_number * degree_celsius).value()));
    CHECK(std::isnan(glucose(not_a_number)));
    CHECK(std::isnan(ferment::glucose_from_density(not_a_number * kilogram_per_cubic_metre).value()));
}

TEST_CASE("sucrose: the inverse accepts both ends and refuses what no solution has", "[liquid][sucrose][edges]") {
    for (const double t : {0.0, 20.0, 80.0}) {
        const double lightest = icumsa_sps4::density(0.0, t);
        const double heaviest = icumsa_sps4::density(icumsa_sps4::extract_range.upper, t);
        const auto inverse = [t](const double rho) { return ferment::extract_from_density(rho * kilogram_per_cubic_metre, t * degree_celsius).value(); };
        CAPTURE(t, lightest, heaviest);
        CHECK(inverse(lightest) == 0.0);
        CHECK(inverse(heaviest) == icumsa_sps4::extract_range.upper);
        for (const double rho : {below(lightest), above(heaviest), infinity, -infinity}) {
            CHECK(std::isnan(icumsa_sps4::extract_from_density(rho, t)));
            CHECK_THROWS_AS(inverse(rho), ferment::RangeError);
        }
    }
}

TEST_CASE("sucrose and glucose: the errors name quantity, value, unit and range", "[liquid][sucrose][edges]") {
    check_refused([] { density(70.5, 20.0); }, "extract 70.5 % mass is outside 0 to 70 % mass (ICUMSA SPS-4");
    check_refused([] { density(12.0, 80.5); }, "temperature 80.5 degC is outside 0 to 80 degC (ICUMSA SPS-4");
    check_refused([] { ferment::extract_from_density(990.0 * kilogram_per_cubic_metre, 20.0 * degree_celsius); }, "density 990 kg/m3 is outside 998.2031");
    check_refused([] { glucose(60.5); }, "extract 60.5 % mass is outside 0 to 60 % mass (CRC Handbook");
    check_refused([] { ferment::glucose_from_density(1400.0 * kilogram_per_cubic_metre); }, "density 1400 kg/m3 is outside 998.2031");
}

TEST_CASE("glucose: both ends belong to the range, the next number beyond does not", "[liquid][glucose][edges]") {
    const double lightest = crc_glucose::density(0.0);
    const double heaviest = crc_glucose::density(0.60);
    CHECK(lightest == icumsa_sps4::water(20.0));
    CHECK(ferment::glucose_from_density(lightest * kilogram_per_cubic_metre).value() == 0.0);
    CHECK(ferment::glucose_from_density(heaviest * kilogram_per_cubic_metre).value() == 0.60);
    CHECK(crc_glucose::density(-0.0) == lightest);
    for (const double w : {below(0.0), above(0.60), infinity, -infinity}) {
        CAPTURE(w);
        CHECK(std::isnan(crc_glucose::density(w)));
        CHECK_THROWS_AS(ferment::glucose_density(ferment::extract<>::from_value(w)), ferment::RangeError);
    }
    for (const double rho : {below(lightest), above(heaviest), infinity, -infinity}) {
        CAPTURE(rho);
        CHECK(std::isnan(crc_glucose::extract_from_density(rho)));
        CHECK_THROWS_AS(ferment::glucose_from_density(rho * kilogram_per_cubic_metre), ferment::RangeError);
    }
}

TEST_CASE("sucrose and glucose: eight lanes give what eight scalars give", "[liquid][sucrose][lanes]") {
    const Eight w{0.0, 0.05, 0.12, 0.30, 0.70, -0.01, 0.71, not_a_number};
    const Eight t{0.0, 80.0, 20.0, 65.0, 15.0, 20.0, 20.0, 20.0};
    const Eight rho{998.0, 1000.0, 1047.0, 1150.0, 1300.0, 900.0, 1400.0, not_a_number};
    check_lanes([](const auto& x, const auto& y) { return icumsa_sps4::density(x, y); }, w, t);
    check_lanes([](const auto& x, const auto& y) { return icumsa_sps4::extract_from_density(x, y); }, rho, t);
    check_lanes([](const auto& x, const auto& y) { return icumsa_sps4::density_and_slope(x, y).slope; }, w, t);
    check_lanes([](const auto& x) { return crc_glucose::density(x); }, w);
    check_lanes([](const auto& x) { return crc_glucose::extract_from_density(x); }, rho);
}

TEST_CASE("sucrose: the slope is that of the density", "[liquid][sucrose][derivative]") {
    Worst slope;
    Worst value;
    for (int percent = 1; percent < 70; ++percent) {
        for (int t = 0; t <= 80; t += 5) {
            const double w = percent / 100.0;
            const auto at = [t](const double x) { return icumsa_sps4::density(x, double(t)); };
            const auto both = icumsa_sps4::density_and_slope(w, double(t));
            slope.add(both.slope - central_difference(at, w));
            value.add(both.value - at(w));
        }
    }
    CHECK(slope.value <= 1e-7);  // kg/m3 per unit of mass fraction, of about 400: round-off of the difference
    CHECK(value.value <= 1e-12 * 1400.0);
}

TEST_CASE("sucrose: the inverse is exact over the whole range, and density rises with extract", "[liquid][sucrose][identity]") {
    Worst worst;
    bool rising = true;
    for (int t = 0; t <= 80; t += 2) {
        for (int i = 0; i <= 1400; ++i) {
            const double w = std::min(0.0005 * i, 0.70);
            const double rho = icumsa_sps4::density(w, double(t));
            worst.add(icumsa_sps4::extract_from_density(rho, double(t)) - w);
            if (i > 0) rising = rising && rho > icumsa_sps4::density(0.0005 * (i - 1), double(t));
        }
    }
    CHECK(worst.value <= round_trip);
    CHECK(rising);
}

TEST_CASE("glucose: the inverse is exact over the whole range, and glucose is lighter than sucrose", "[liquid][glucose][identity]") {
    Worst worst;
    bool rising = true;
    bool lighter = true;
    for (int i = 0; i <= 1200; ++i) {
        const double w = std::min(0.0005 * i, 0.60);
        const double rho = crc_glucose::density(w);
        worst.add(crc_glucose::extract_from_density(rho) - w);
        if (i > 0) {
            rising = rising && rho > crc_glucose::density(0.0005 * (i - 1));
            lighter = lighter && rho < icumsa_sps4::density(w, 20.0);
        }
    }
    CHECK(worst.value <= round_trip);
    CHECK(rising);
    CHECK(lighter);
}
