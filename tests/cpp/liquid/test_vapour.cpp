#include <algorithm>
#include <cmath>
#include <ferment/core/uncertain.hpp>
#include <ferment/liquid/vapour.hpp>
#include <set>
#include <string>
#include <vector>

#include "checks.hpp"

using ferment::abw;
using ferment::azeotrope;
using ferment::bubble_point;
using ferment::degree_celsius;
using ferment::dew_point;
using ferment::dippr101_ethanol;
using ferment::dippr101_water;
using ferment::kilopascal;
using ferment::metre;
using ferment::nrtl_ethanol_water;
using ferment::percent_mass;
using ferment::standard_atmosphere;
using ferment::Uncertain;
using ferment::wash_vapour;
using ferment::zero_celsius_kelvin;
using namespace ferment_test;
using binary = wash_vapour::binary;

namespace {

constexpr double atmosphere = 101325.0;  // Pa
constexpr double mm_mercury = atmosphere / 760.0;
constexpr double pascal = 1e3;  // in a kPa

struct Boiled {
    double t;  // degC
    double y;  // mole fraction
};
/// By moles, through the kernel of a wash without extract.
Boiled boil(const double z, const double p) {
    const auto found = wash_vapour::bubble_point(wash_vapour::mass_fraction(z), p);
    return {found.boiling_c, wash_vapour::mole_fraction(found.vapour)};
}

/// Deviations of a table that lie beyond a tolerance, by the x that names the row; and the worst of all.
struct Compared {
    Worst vapour;
    Worst boiling;
    std::set<double> vapour_beyond;
    std::set<double> boiling_beyond;
};
Compared compare(const std::string& table, const std::string& t_column, const double t_zero, const double p, const double tolerance_y,
                 const double tolerance_t) {
    Compared found;
    for (const Row& row : read_table("distillation/" + table)) {
        const double x = row.number("x");
        const Boiled model = boil(x, p);
        const double dy = model.y - row.number("y");
        const double dt = model.t + t_zero - row.number(t_column);
        found.vapour.add(dy, row.line());
        found.boiling.add(dt, row.line());
        if (!(std::abs(dy) <= tolerance_y)) found.vapour_beyond.insert(x);
        if (!(std::abs(dt) <= tolerance_t)) found.boiling_beyond.insert(x);
    }
    return found;
}

/// A row of a small published table that has text keys.
const Row& row_where(const std::vector<Row>& rows, const std::string& column, const std::string& value) {
    for (const Row& row : rows) {
        if (row.text(column) == value) return row;
    }
    throw std::runtime_error("no row " + value);
}

}  // namespace

// ---- published ----

// Isobaric sets. What is asked for: y within 0.012 and T within 0.5 K of Perry and Kamihama; the tolerances of the other sets are the scatter of each.
TEST_CASE("vapour: Kamihama 2012, 101.3 kPa, the best set", "[liquid][vapour][published]") {
    const Compared found = compare("vle_kamihama_2012.csv", "T_K", zero_celsius_kelvin, 101.3e3, 0.012, 0.35);
    CAPTURE(found.vapour.value, found.vapour.line, found.boiling.value, found.boiling.line);
    CHECK(found.vapour.rows == 17);
    CHECK(found.vapour_beyond.empty());  // 0.0118 at x = 0.09; above x = 0.3 within 0.0041
    CHECK(found.boiling_beyond.empty());
}

TEST_CASE("vapour: Perry table 13-1, 101.325 kPa", "[liquid][vapour][published]") {
    const Compared found = compare("vle_perry.csv", "T_C", 0.0, atmosphere, 0.012, 0.5);
    CAPTURE(found.vapour.value, found.vapour.line, found.boiling.value, found.boiling.line);
    CHECK(found.vapour.rows == 14);
    // Two rows are missed by 0.0129 and 0.0125. Kamihama, measured at nearly the same x, is met there within 0.0002: the two sources are as far apart.
    CHECK(found.vapour_beyond == std::set<double>{0.2337, 0.3273});
    CHECK(found.vapour.value <= 0.013);
    // One temperature is missed by 0.83 K; it is printed some 0.5 K lower than the rows around it ask for.
    CHECK(found.boiling_beyond == std::set<double>{0.0721});
    CHECK(found.boiling.value <= 0.83);
}

TEST_CASE("vapour: Rieder and Thompson 1949, dilute points with scatter", "[liquid][vapour][published]") {
    const Compared found = compare("vle_rieder_thompson_1949.csv", "T_C", 0.0, 101.3e3, 0.015, 0.6);
    CAPTURE(found.vapour.value, found.vapour.line, found.boiling.value, found.boiling.line);
    CHECK(found.vapour.rows == 28);
    // The set lies 0.01 to 0.03 below the model, Kamihama 0.01 above it, at x of 0.05 to 0.1. Outside the scatter (0.015) of the set: 0.0137 and
    // 0.0625 are outliers against all models (0.019, 0.030); the others are the model's: 0.026 at 0.053, 0.029 at 0.0715, 0.017 at 0.172, and
    // 0.0150 by a hair at 0.0302 and 0.255.
    CHECK(found.vapour_beyond == std::set<double>{0.0137, 0.0302, 0.053, 0.0625, 0.0715, 0.172, 0.255});
    CHECK(found.vapour.value <= 0.03);
    CHECK(found.boiling_beyond == std::set<double>{0.206});  // 0.604 K
    CHECK(found.boiling.value <= 0.61);
}

TEST_CASE("vapour: reduced pressure", "[liquid][vapour][published]") {
    SECTION("Voutsas 2011, 32.86 kPa") {
        const Compared found = compare("vle_voutsas_2011_32p86kPa.csv", "T_K", zero_celsius_kelvin, 32.86e3, 0.01, 0.5);
        CAPTURE(found.vapour.value, found.vapour.line, found.boiling.value, found.boiling.line);
        CHECK(found.vapour.rows == 12);
        // The model gives 0.014, 0.017 and 0.020 too much vapour below x = 0.25: weaker than the set's 0.01.
        CHECK(found.vapour_beyond == std::set<double>{0.063, 0.15, 0.248});
        CHECK(found.vapour.value <= 0.02);
        CHECK(found.boiling_beyond.empty());
    }
    SECTION("Beebe 1942, 380 and 190 mmHg: compositions only, the temperatures are unusable") {
        for (const double mm : {380.0, 190.0}) {
            const Compared found = compare("vle_beebe_1942_" + std::to_string(static_cast<int>(mm)) + "mmHg.csv", "T_C", 0.0, mm * mm_mercury, 0.02, infinity);
            CAPTURE(mm, found.vapour.value, found.vapour.line);
            CHECK(found.vapour.rows >= 16);
            CHECK(found.vapour_beyond.empty());
        }
    }
}

TEST_CASE("vapour: the end of a run, 0.01 to 50 % by mass", "[liquid][vapour][published]") {
    Worst vapour;
    Worst boiling;
    Worst dilute_boiling;
    Worst dilute_vapour;
    for (const Row& row : read_table("distillation/boiling_liquid_vapour_0_50wt.csv")) {
        if (row.has("flag")) continue;  // misprint
        const double w = row.number("x_wt_pct");
        const auto found = bubble_point(w * percent_mass, atmosphere / pascal * kilopascal);
        const double y = ferment::mole_fraction_from_abw(found.vapour).value();
        vapour.add(100.0 * y - row.number("y_mol_pct"), row.line());
        boiling.add(found.temperature.value() - row.number("T_C"), row.line());
        if (w <= 10.0) {
            dilute_boiling.add(found.temperature.value() - row.number("T_C"), row.line());
            dilute_vapour.add(100.0 * y - row.number("y_mol_pct"), row.line());
        }
    }
    CAPTURE(vapour.value, vapour.line, boiling.value, boiling.line, dilute_boiling.value, dilute_vapour.value);
    CHECK(vapour.rows == 48);
    CHECK(vapour.value <= 2.0);
    CHECK(boiling.value <= 0.45);
    CHECK(dilute_boiling.rows == 17);
    CHECK(dilute_boiling.value <= 0.17);  // what the class for boiling washes says of itself
    CHECK(dilute_vapour.value <= 0.36);
}

TEST_CASE("vapour: total pressure of the isothermal sets, 30 to 90 degC", "[liquid][vapour][published]") {
    constexpr double good_model = 0.03;
    struct Set {
        const char* table;
        double t;
    };
    for (const Set& set : {Set{"ptx_30C", 30.0}, Set{"ptx_50C_a", 50.0}, Set{"ptx_50C_b", 50.0}, Set{"ptx_90C_a", 90.0}, Set{"ptx_90C_b", 90.0}}) {
        Worst worst;
        for (const Row& row : read_table(std::string("distillation/") + set.table + ".csv")) {
            const double p = std::exp(binary::at(row.number("x"), set.t + zero_celsius_kelvin).ln_pressure.value);
            worst.add(p / (pascal * row.number("P_kPa")) - 1.0, row.line());
        }
        CAPTURE(set.table, worst.value, worst.line);
        CHECK(worst.rows == 20);
        CHECK(worst.value <= good_model);
    }
}

TEST_CASE("vapour: the azeotrope, solved", "[liquid][vapour][published]") {
    const auto at = [](const double kpa) { return wash_vapour::azeotrope(pascal * kpa).mole_fraction; };
    CHECK(at(101.3) >= 0.894 - 0.003);
    CHECK(at(101.3) <= 0.895 + 0.003);
    CHECK(std::abs(at(32.86) - 0.932) <= 0.012);
    Worst inside;
    Worst outside;
    Worst temperature;
    for (const Row& row : read_table("distillation/azeotrope.csv")) {
        const double kpa = row.number("P_kPa");
        if (!row.has("x_azeo") || kpa < 20.0 || kpa > 110.0) continue;
        const auto found = wash_vapour::azeotrope(pascal * kpa);
        const double dx = found.mole_fraction - row.number("x_azeo");
        // Weaker than the sources: at 32.86 kPa 0.0098 too little ethanol where the set is sure of 0.005, at 50 degC (29.5 kPa) 0.017 where it is sure of 0.01.
        const bool known = kpa == 32.86 || kpa == 29.5;
        CAPTURE(kpa, dx);
        CHECK((std::abs(dx) <= row.number("x_uncertainty")) != known);
        (known ? outside : inside).add(dx, row.line());
        if (row.has("T_C") && !known) temperature.add(found.boiling_c - row.number("T_C"), row.line());
        if (row.has("w_azeo")) CHECK(std::abs(found.abw - row.number("w_azeo")) <= 0.001);
    }
    CAPTURE(outside.value, temperature.value);
    CHECK(inside.rows == 5);
    CHECK(outside.rows == 2);
    CHECK(outside.value <= 0.018);
    CHECK(temperature.rows == 3);
    CHECK(temperature.value <= 0.1);
}

TEST_CASE("vapour: activity coefficients of a worked problem", "[liquid][vapour][published]") {
    // Gmehling et al., problem P05.01b: x = 0.252, 70 degC, energies constant in cal/mol.
    constexpr double cal_per_mol_k = 1.98721;
    constexpr double rounding = 0.001;
    constexpr double kelvin = 70.0 + zero_celsius_kelvin;
    const std::vector<Row> parameters = read_table("distillation/activity_parameters.csv");
    const std::vector<Row> points = read_table("distillation/activity_point_checks.csv");
    const Row& set = row_where(parameters, "no", "2");
    const Row& expected = row_where(points, "model", "NRTL");
    const std::string alpha = set.text("third");
    const double non_randomness = std::stod(alpha.substr(alpha.find('=') + 1));
    const auto gamma = ferment::nrtl::ln_gamma<double>(0.252, {set.number("p12") / (cal_per_mol_k * kelvin), 0.0},
                                                       {set.number("p21") / (cal_per_mol_k * kelvin), 0.0}, non_randomness);
    CHECK(std::abs(std::exp(gamma.one.value) - expected.number("gamma1")) <= rounding);
    CHECK(std::abs(std::exp(gamma.two.value) - expected.number("gamma2")) <= rounding);
    // regression: the set of the library, fitted to other data, differs at this point by 0.005 and 0.014.
    const auto own = nrtl_ethanol_water::ln_gamma<double>(0.252, kelvin);
    CAPTURE(std::exp(own.one.value), std::exp(own.two.value));
    CHECK(std::abs(std::exp(own.one.value) - expected.number("gamma1")) <= 0.005);
    CHECK(std::abs(std::exp(own.two.value) - expected.number("gamma2")) <= 0.0145);
}

TEST_CASE("vapour: the constants are those of the published tables", "[liquid][vapour][published]") {
    const std::vector<Row> dippr = read_table("distillation/vapour_pressure_dippr101.csv");
    const auto check = [&](const std::string& compound, const auto& c, const ferment::num::interval range) {
        const Row& row = row_where(dippr, "compound", compound);
        for (std::size_t i = 0; i < c.size(); ++i) CHECK(c[i] == row.number("C" + std::to_string(i + 1)));
        CHECK(row.number("C5") == 2.0);
        CHECK(std::abs(range.lower + zero_celsius_kelvin - row.number("Tmin_K")) <= 1e-9);
        CHECK(std::abs(range.upper + zero_celsius_kelvin - row.number("Tmax_K")) <= 1e-9);
    };
    check("ethanol", ferment::dippr101_ethanol_constants::c, dippr101_ethanol::t_range);
    check("water", ferment::dippr101_water_constants::c, dippr101_water::t_range);
    const std::vector<Row> sets = read_table("distillation/activity_parameters.csv");
    const Row& set = row_where(sets, "no", "3");
    const auto print = [](const char* a, const double x, const char* b, const double y) {
        return std::string(a) + "=" + ferment::format_number(x) + " " + b + "=" + ferment::format_number(y);
    };
    CHECK(print("a12", nrtl_ethanol_water::a12, "b12", nrtl_ethanol_water::b12) == set.text("p12"));
    CHECK(print("a21", nrtl_ethanol_water::a21, "b21", nrtl_ethanol_water::b21) == set.text("p21"));
    CHECK("alpha=" + ferment::format_number(nrtl_ethanol_water::alpha) == set.text("third"));
}

TEST_CASE("vapour: boiling points of the pure liquids against other published equations", "[liquid][vapour][published]") {
    constexpr double sets_differ = 0.1;  // K
    const double ethanol = boil(1.0, atmosphere).t;
    const double water = boil(0.0, atmosphere).t;
    CHECK(std::abs(ethanol - 78.31) <= 0.005);  // as printed beside the constants
    CHECK(std::abs(water - 100.02) <= 0.005);
    CHECK(std::abs(water - 99.974) <= sets_differ);   // ITS-90
    CHECK(std::abs(ethanol - 78.29) <= sets_differ);  // CRC Handbook
    // Wagner's equation with the constants of the VDI Heat Atlas, over the range of the boiling points, as a difference of temperatures.
    const std::vector<Row> wagner = read_table("distillation/vapour_pressure_wagner_vdi.csv");
    const auto worst_of = [&](const std::string& compound, const auto& ln_pressure, const double from, const double to) {
        const Row& row = row_where(wagner, "compound", compound);
        Worst worst;
        for (double t = from; t <= to; t += 1.0) {
            const double kelvin = t + zero_celsius_kelvin;
            const double reduced = kelvin / row.number("Tc_K");
            const double tau = 1.0 - reduced;
            const double ln_p = std::log(row.number("Pc_Pa")) + (row.number("A") * tau + row.number("B") * std::pow(tau, 1.5) +
                                                                 row.number("C") * std::pow(tau, 2.5) + row.number("D") * std::pow(tau, 5.0)) /
                                                                    reduced;
            const auto own = ln_pressure(kelvin);
            worst.add((own.value - ln_p) / own.slope);
        }
        return worst;
    };
    const Worst of_ethanol = worst_of(
        "ethanol", [](const double k) { return dippr101_ethanol::ln_pressure(k); }, 42.0, 81.0);
    const Worst of_water = worst_of(
        "water", [](const double k) { return dippr101_water::ln_pressure(k); }, 60.0, 103.0);
    CAPTURE(of_ethanol.value, of_water.value);
    CHECK(of_ethanol.value <= sets_differ);
    CHECK(of_water.value <= sets_differ);
}

namespace de_nevers {

// The inputs of the worked examples: van Laar in log10 and Antoine's equation in mmHg and degC; run through the same solver as the library's own.
constexpr double ten = 2.302585092994046;
struct van_laar {
    template <class T>
    static ferment::vle::activities<T> ln_gamma(const T& z, const T& kelvin) {
        const T a = ten * 0.7292;
        const T b = ten * 0.4104;
        const T x2 = 1.0 - z;
        const T d = 1.0 / (a * z + b * x2);
        const T none = 0.0 * kelvin;
        const T one = a * b * b * x2 * x2 * d * d;
        const T two = b * a * a * z * z * d * d;
        return {{one, -2.0 * a * b * b * x2 * d * d * (1.0 + x2 * (a - b) * d), none}, {two, 2.0 * b * a * a * z * d * d * (1.0 - z * (a - b) * d), none}};
    }
};
template <class Constants>
struct antoine {
    template <class T>
    static ferment::num::value_and_slope<T> ln_pressure(const T& kelvin) {
        const T below = 1.0 / (Constants::c + kelvin - zero_celsius_kelvin);
        return {ten * (Constants::a - Constants::b * below) + std::log(mm_mercury), ten * Constants::b * below * below};
    }
};
struct ethanol {
    static constexpr double a = 8.04494, b = 1554.3, c = 222.65;
};
struct water {
    static constexpr double a = 7.96681, b = 1668.21, c = 228.0;
};
using mixture = ferment::modified_raoult<van_laar, antoine<ethanol>, antoine<water>>;

}  // namespace de_nevers

TEST_CASE("vapour: the solver on worked bubble and dew points", "[liquid][vapour][published]") {
    // de Nevers, examples 8.9 to 8.12; results recomputed from their inputs, four and five digits.
    using de_nevers::mixture;
    constexpr double digit_4 = 0.5e-4;
    constexpr double digit_t = 0.005;
    REQUIRE(read_table("distillation/bubble_point_worked_examples.csv").size() == 4);
    const auto pressure_at = [](const double x, const double t) { return mixture::at(x, t + zero_celsius_kelvin); };
    SECTION("8.9: x and T known") {
        const auto found = pressure_at(0.1238, 85.3);
        CHECK(std::abs(std::exp(found.ln_pressure.value) / atmosphere - 0.9991) <= digit_4);
        CHECK(std::abs(found.vapour - 0.4741) <= digit_4);
    }
    SECTION("8.10: x and pressure known") {
        const double kelvin = mixture::boiling(0.2608, atmosphere);
        CHECK(std::abs(kelvin - zero_celsius_kelvin - 82.04) <= digit_t);
        CHECK(std::abs(mixture::at(0.2608, kelvin).vapour - 0.5684) <= digit_4);
    }
    SECTION("8.11: y and T known") {
        const auto found = pressure_at(0.3754, 80.7);
        CHECK(std::abs(found.vapour - 0.6122) <= digit_4);
        CHECK(std::abs(std::exp(found.ln_pressure.value) / atmosphere - 0.9965) <= digit_4);
    }
    SECTION("8.12: y and pressure known") {
        const double x = mixture::liquid_of(0.17, atmosphere);
        CHECK(std::abs(x - 0.0187) <= digit_4);
        CHECK(std::abs(mixture::boiling(x, atmosphere) - zero_celsius_kelvin - 95.35) <= digit_t);
    }
}

TEST_CASE("vapour: extract as an ideal solute, seen at the freezing point of glucose", "[liquid][vapour][published]") {
    // CRC Handbook, 102nd ed.: both effects are the water's lowered activity, and no table of boiling points was found. The cryoscopic constant is
    // from memory. Ideal counting is short by 3 % at 10 % glucose, 6 % at 20 % and 10 % at 30 %.
    constexpr double cryoscopic = 1.86;  // K kg/mol, from memory
    constexpr double molality_to_share = 1e-3 * wash_vapour::water;
    std::size_t rows = 0;
    for (const Row& row : read_table("sugar_solutions/crc_20C_glucose.csv")) {
        const double w = row.number("mass_pct");
        if (!row.has("freezing_depression_K") || w < 5.0 || w > 30.0) continue;
        const double molecules = wash_vapour::raise(0.0, wash_vapour::solutes(w / 100.0, wash_vapour::extract_molar_mass)) - 1.0;
        const double depression = cryoscopic * molecules / molality_to_share;
        const double ratio = depression / row.number("freezing_depression_K");
        CAPTURE(w, ratio);
        CHECK(ratio <= 1.0);
        CHECK(ratio >= 1.0 - 0.01 - 0.0035 * w);
        ++rows;
    }
    CHECK(rows > 15);
}

TEST_CASE("vapour: pressure of the standard atmosphere", "[liquid][vapour][published]") {
    // ISO 2533 as remembered: from memory.
    CHECK(std::abs(ferment::pressure_at_altitude(0.0 * metre).value() - 101325.0) <= 1e-9);
    CHECK(std::abs(ferment::pressure_at_altitude(1000.0 * metre).value() - 89874.6) <= 0.5);
    CHECK(std::abs(ferment::pressure_at_altitude(5000.0 * metre).value() - 54019.9) <= 0.5);
    CHECK(std::abs(ferment::pressure_at_altitude(11000.0 * metre).value() - 22632.0) <= 0.5);
    for (double h = -5000.0; h <= 11000.0; h += 250.0) {
        CAPTURE(h);
        CHECK(std::abs(ferment::altitude_of_pressure(ferment::pressure_at_altitude(h * metre)).value() - h) <= 1e-8);
    }
    // The day's weather: with the standard pressure at sea level nothing is shifted, and at sea level the report is the pressure.
    CHECK(same(ferment::station_pressure(101.325 * kilopascal, 800.0 * metre).value(), ferment::pressure_at_altitude(800.0 * metre).value()));
    CHECK(same(ferment::station_pressure(98.0 * kilopascal, 0.0 * metre).value(), 98e3));
    CHECK(ferment::station_pressure(98.0 * kilopascal, 800.0 * metre).value() < ferment::pressure_at_altitude(800.0 * metre).value());
}

// ---- identities ----

TEST_CASE("vapour: activities fulfil the Gibbs-Duhem equation and are one in the pure liquids", "[liquid][vapour][identity]") {
    for (double t = 40.0; t <= 105.0; t += 5.0) {
        const double kelvin = t + zero_celsius_kelvin;
        for (int i = 0; i <= 100; ++i) {
            const double z = i / 100.0;
            const auto gamma = nrtl_ethanol_water::ln_gamma(z, kelvin);
            CAPTURE(t, z);
            CHECK(std::abs(z * gamma.one.by_z + (1.0 - z) * gamma.two.by_z) <= 1e-13);
        }
        CHECK(nrtl_ethanol_water::ln_gamma(1.0, kelvin).one.value == 0.0);
        CHECK(nrtl_ethanol_water::ln_gamma(0.0, kelvin).two.value == 0.0);
    }
}

TEST_CASE("vapour: pure water and pure ethanol boil at their vapour pressures", "[liquid][vapour][identity]") {
    for (double kpa = 20.0; kpa <= 110.0; kpa += 5.0) {
        const auto water = bubble_point(0.0 * percent_mass, kpa * kilopascal);
        const auto ethanol = bubble_point(100.0 * percent_mass, kpa * kilopascal);
        CAPTURE(kpa);
        CHECK(std::abs(ferment::water_vapour_pressure(water.temperature).value() / (pascal * kpa) - 1.0) <= 1e-12);
        CHECK(std::abs(ferment::ethanol_vapour_pressure(ethanol.temperature).value() / (pascal * kpa) - 1.0) <= 1e-12);
        CHECK(water.vapour.value() == 0.0);
        CHECK(ethanol.vapour.value() == 1.0);
        CHECK(std::abs(water.k_water - 1.0) <= 1e-12);
        CHECK(std::abs(ethanol.k_ethanol - 1.0) <= 1e-12);
        CHECK(water.k_ethanol > 10.0);
        CHECK(std::abs(water.relative_volatility - water.k_ethanol / water.k_water) <= 1e-12 * water.relative_volatility);
    }
    // Ethanol at infinite dilution at 100 degC: the published parameter sets give 10.9 to 13.4.
    const double k = bubble_point(0.0 * percent_mass, atmosphere / pascal * kilopascal).k_ethanol;
    CHECK(k >= 10.9);
    CHECK(k <= 13.4);
}

TEST_CASE("vapour: mole and mass fractions are exact inverses", "[liquid][vapour][identity]") {
    for (int i = 0; i <= 1000; ++i) {
        const double w = i / 1000.0;
        CHECK(std::abs(ferment::abw_from_mole_fraction(ferment::mole_fraction_from_abw(abw<>::from_value(w))).value() - w) <= 1e-15);
    }
    CHECK(wash_vapour::mole_fraction(0.0) == 0.0);
    CHECK(wash_vapour::mole_fraction(1.0) == 1.0);
}

TEST_CASE("vapour: below the azeotrope more ethanol boils lower, everywhere it makes richer vapour", "[liquid][vapour][identity]") {
    for (const double kpa : {20.0, 32.86, 60.0, 101.325, 110.0}) {
        const auto turning = wash_vapour::azeotrope(pascal * kpa);
        double t = infinity;
        double v = -1.0;
        for (int i = 0; i <= 2000; ++i) {
            const double w = i / 2000.0;
            const auto found = wash_vapour::bubble_point(w, pascal * kpa);
            CAPTURE(kpa, w);
            if (w <= turning.abw) {
                CHECK(found.boiling_c < t);
                CHECK(found.vapour >= w);
                CHECK(found.relative_volatility > 1.0);
            } else {
                CHECK(found.boiling_c > turning.boiling_c);
                CHECK(found.vapour <= w);
            }
            CHECK(found.vapour > v);
            t = found.boiling_c;
            v = found.vapour;
        }
    }
}

TEST_CASE("vapour: at the azeotrope vapour and liquid are one, and nothing boils lower", "[liquid][vapour][identity]") {
    double weaker = 1.0;
    for (double kpa = 20.0; kpa <= 110.0; kpa += 2.5) {
        const auto found = azeotrope(kpa * kilopascal);
        const auto boiling = bubble_point(found.strength, kpa * kilopascal);
        CAPTURE(kpa);
        CHECK(std::abs(boiling.relative_volatility - 1.0) <= 1e-11);
        CHECK(std::abs(boiling.vapour.value() - found.strength.value()) <= 1e-12);
        CHECK(std::abs(boiling.temperature.value() - found.temperature.value()) <= 1e-11);
        for (const double aside : {-0.01, 0.01}) {
            CHECK(ferment::boiling_point(abw<>::from_value(found.strength.value() + aside), kpa * kilopascal).value() > found.temperature.value());
        }
        CHECK(found.strength.value() < weaker);  // falls with rising pressure
        weaker = found.strength.value();
    }
}

TEST_CASE("vapour: bubble and dew point are exact inverses", "[liquid][vapour][identity]") {
    Worst liquid;
    Worst vapour;
    Worst temperature;
    for (const double kpa : {20.0, 50.0, 101.325, 110.0}) {
        for (int i = 0; i <= 400; ++i) {
            const abw<> w = abw<>::from_value(i / 400.0);
            const auto up = bubble_point(w, kpa * kilopascal);
            const auto back = dew_point(up.vapour, kpa * kilopascal);
            liquid.add((back.liquid - w).value());
            temperature.add(back.temperature.value() - up.temperature.value());
            const auto down = dew_point(w, kpa * kilopascal);
            vapour.add((ferment::vapour_strength(down.liquid, kpa * kilopascal) - w).value());
        }
    }
    CHECK(liquid.value <= round_trip);
    CHECK(vapour.value <= round_trip);
    CHECK(temperature.value <= 1e-9);
}

TEST_CASE("vapour: extract takes its share of the molecules and no more", "[liquid][vapour][identity]") {
    const auto p = 101.325 * kilopascal;
    for (const double x : {0.01, 0.03, 0.10, 0.30}) {
        for (const double w : {0.0, 0.05, 0.10, 0.40}) {
            const auto plain = bubble_point(abw<>::from_value(w), p);
            const auto with = bubble_point(abw<>::from_value(w * (1.0 - x)), ferment::extract<>::from_value(x), p);
            CAPTURE(x, w);
            CHECK(with.temperature.value() > plain.temperature.value());
            // Raoult for the solvent: the liquid boils as the solvent alone would at p over its share of the molecules.
            const double moles = w * (1.0 - x) / wash_vapour::ethanol + (1.0 - w) * (1.0 - x) / wash_vapour::water;
            const double share = moles / (moles + x / wash_vapour::extract_molar_mass);
            const double raised = atmosphere / share;
            if (raised <= 110e3) {
                const auto solvent = wash_vapour::bubble_point(w, raised);
                CHECK(std::abs(solvent.boiling_c - with.temperature.value()) <= 1e-10);
                CHECK(std::abs(solvent.vapour - with.vapour.value()) <= 1e-13);
            }
            // K values are by moles of the whole liquid: they give back the vapour.
            const double z = wash_vapour::mole_fraction(w);
            const double y = wash_vapour::mole_fraction(with.vapour.value());
            CHECK(std::abs(with.k_ethanol * z * share - y) <= 1e-12);
            CHECK(std::abs(with.k_water * (1.0 - z) * share - (1.0 - y)) <= 1e-12);
        }
    }
    // 3 % of glucose in water: 0.09 K; a molar mass twice as large does half as much.
    const auto rise = [&](const double molar_mass) {
        return bubble_point(0.0 * percent_mass, ferment::extract<>::from_value(0.03), p, molar_mass).temperature.value() -
               bubble_point(0.0 * percent_mass, p).temperature.value();
    };
    CHECK(std::abs(rise(wash_vapour::extract_molar_mass) - 0.087) <= 0.002);
    CHECK(std::abs(rise(2.0 * wash_vapour::extract_molar_mass) / rise(wash_vapour::extract_molar_mass) - 0.5) <= 0.001);
    const double none = 0.0;
    CHECK(bubble_point(8.0 * percent_mass, ferment::extract<>::from_value(none), p).temperature.value() ==
          bubble_point(8.0 * percent_mass, p).temperature.value());
}

// ---- derivatives, doubt, lanes ----

TEST_CASE("vapour: slopes are those of the functions", "[liquid][vapour][derivative]") {
    for (const double z : {0.01, 0.1, 0.3, 0.6, 0.9, 0.98}) {
        for (const double kelvin : {320.0, 350.0, 372.0}) {
            const auto here = binary::at(z, kelvin);
            CAPTURE(z, kelvin);
            const auto check = [&](const auto& pick) {
                const double by_z = central_difference([&](const double v) { return pick(binary::at(v, kelvin)).value; }, z);
                const double by_t = central_difference([&](const double v) { return pick(binary::at(z, v)).value; }, kelvin);
                CHECK(std::abs(pick(here).by_z - by_z) <= 1e-8 * (1.0 + std::abs(by_z)));
                CHECK(std::abs(pick(here).by_t - by_t) <= 1e-9);
            };
            check([](const auto& s) { return s.ln_one; });
            check([](const auto& s) { return s.ln_two; });
            check([](const auto& s) { return s.ln_pressure; });
            const double p = std::exp(here.ln_pressure.value);
            const double along = central_difference([&](const double v) { return binary::boiling(v, p); }, z);
            CHECK(std::abs(here.kelvin_by_z() - along) <= 1e-6 * (1.0 + std::abs(along)));
        }
    }
}

TEST_CASE("vapour: doubt goes through every solver", "[liquid][vapour][uncertain]") {
    const double e = 0.08;
    const double x = 0.03;
    const double p = 98e3;
    const double m = wash_vapour::extract_molar_mass;
    const double doubt = 1e-3;
    const auto from_slope = [&](const auto& f, const double at) { return std::abs(f(at * (1.0 + 1e-6)) - f(at * (1.0 - 1e-6))) / (2e-6 * at) * doubt * at; };
    const auto agree = [](const Uncertain& found, const double slope, const double value) {
        CAPTURE(found.value(), found.standard_uncertainty(), slope, value);
        CHECK(std::abs(found.value() - value) <= 1e-9 * (1.0 + std::abs(value)));
        CHECK(std::abs(found.standard_uncertainty() / slope - 1.0) <= 1e-4);
    };
    const auto input = [&](const double at) { return Uncertain::input(at, doubt * at, "input"); };
    const auto plain = wash_vapour::bubble_point(e, x, p, m);
    const auto all = [&](const Uncertain& a, const Uncertain& b, const Uncertain& c, const Uncertain& d) { return wash_vapour::bubble_point(a, b, c, d); };
    agree(all(input(e), x, p, m).boiling_c, from_slope([&](const double v) { return wash_vapour::bubble_point(v, x, p, m).boiling_c; }, e), plain.boiling_c);
    agree(all(e, input(x), p, m).boiling_c, from_slope([&](const double v) { return wash_vapour::bubble_point(e, v, p, m).boiling_c; }, x), plain.boiling_c);
    agree(all(e, x, input(p), m).boiling_c, from_slope([&](const double v) { return wash_vapour::bubble_point(e, x, v, m).boiling_c; }, p), plain.boiling_c);
    agree(all(e, x, p, input(m)).boiling_c, from_slope([&](const double v) { return wash_vapour::bubble_point(e, x, p, v).boiling_c; }, m), plain.boiling_c);
    agree(all(input(e), x, p, m).vapour, from_slope([&](const double v) { return wash_vapour::bubble_point(v, x, p, m).vapour; }, e), plain.vapour);
    const auto dew = wash_vapour::dew_point(0.6, p);
    agree(wash_vapour::dew_point(input(0.6), Uncertain(p)).liquid, from_slope([&](const double v) { return wash_vapour::dew_point(v, p).liquid; }, 0.6),
          dew.liquid);
    agree(wash_vapour::dew_point(Uncertain(0.6), input(p)).boiling_c, from_slope([&](const double v) { return wash_vapour::dew_point(0.6, v).boiling_c; }, p),
          dew.boiling_c);
    const auto pole = wash_vapour::azeotrope(p);
    agree(wash_vapour::azeotrope(input(p)).mole_fraction, from_slope([&](const double v) { return wash_vapour::azeotrope(v).mole_fraction; }, p),
          pole.mole_fraction);
    // No doubt lost at the pure ends.
    CHECK(all(input(0.0) + Uncertain::input(0.0, 1e-4, "blank"), Uncertain(0.0), p, m).boiling_c.standard_uncertainty() > 0.01);
}

TEST_CASE("vapour: eight lanes give what eight scalars give", "[liquid][vapour][lanes]") {
    const Eight e{0.0, 0.001, 0.08, 0.5, 0.95, 1.0, 0.1, not_a_number};
    const Eight x{0.0, 0.05, 0.02, 0.3, 0.0, 0.0, 0.31, 0.01};
    const Eight p{101325.0, 20e3, 110e3, 95e3, 33e3, 101325.0, 101325.0, 101325.0};
    const Eight m{180.0, 90.0, 180.0, 342.0, 60.0, 2000.0, 180.0, 180.0};
    check_lanes([](const auto& a, const auto& b, const auto& c, const auto& d) { return wash_vapour::bubble_point(a, b, c, d).boiling_c; }, e, x, p, m);
    check_lanes([](const auto& a, const auto& b, const auto& c, const auto& d) { return wash_vapour::bubble_point(a, b, c, d).vapour; }, e, x, p, m);
    check_lanes([](const auto& a, const auto& b, const auto& c, const auto& d) { return wash_vapour::bubble_point(a, b, c, d).k_water; }, e, x, p, m);
    const Eight v{0.0, 0.1, 0.4, 0.6, 0.9, 1.0, 1.1, not_a_number};
    const Eight some{101325.0, 20e3, 110e3, 19e3, 33e3, 101325.0, 101325.0, 101325.0};
    const auto near = [](const auto& kernel, const auto&... inputs) {  // two nested solvers: each ends within its own round-off
        const ferment::Lanes together = kernel(lanes_of(inputs)...);
        for (std::size_t i = 0; i < 8; ++i) {
            const double alone = kernel(inputs[i]...);
            const double lane = together[static_cast<Eigen::Index>(i)];
            CAPTURE(i, alone, lane);
            CHECK(std::isnan(alone) == std::isnan(lane));
            CHECK((std::isnan(alone) || std::abs(alone - lane) <= 1e-11));
        }
    };
    near([](const auto& a, const auto& b) { return wash_vapour::dew_point(a, b).liquid; }, v, some);
    near([](const auto& a) { return wash_vapour::azeotrope(a).abw; }, some);
    const Eight t{-114.1, 0.01, 78.3, 100.0, 240.85, -115.0, 373.946, not_a_number};
    check_lanes([](const auto& a) { return dippr101_ethanol::vapour_pressure(a); }, t);
    check_lanes([](const auto& a) { return dippr101_water::vapour_pressure(a); }, t);
    const Eight h{-5000.0, 0.0, 500.0, 1000.0, 11000.0, 11001.0, -5001.0, not_a_number};
    check_lanes([](const auto& a) { return standard_atmosphere::pressure(a); }, h);
}

// ---- edges ----

TEST_CASE("vapour: both ends of every range belong to it, beyond is refused", "[liquid][vapour][edges]") {
    const auto boiling = [](const double e, const double x, const double p, const double m) {
        return bubble_point(abw<>::from_value(e), ferment::extract<>::from_value(x), ferment::pressure<>::from_value(p), m).temperature.value();
    };
    for (const double p : {20e3, 110e3}) {
        CHECK(std::isfinite(boiling(0.0, 0.0, p, 180.0)));
        CHECK(std::isfinite(boiling(1.0, 0.0, p, 180.0)));
        CHECK(std::isfinite(boiling(0.0, 0.30, p, 60.0)));
        CHECK(std::isfinite(boiling(0.5, wash_vapour::extract_range.upper, p, 2000.0)));
        CHECK(std::isfinite(azeotrope(ferment::pressure<>::from_value(p)).temperature.value()));
        CHECK(std::isfinite(dew_point(abw<>::from_value(1.0), ferment::pressure<>::from_value(p)).temperature.value()));
    }
    for (const double p : {below(20e3), above(110e3), 0.0, -1.0, infinity, -infinity}) {
        CAPTURE(p);
        const auto typed = ferment::pressure<>::from_value(p);
        CHECK(std::isnan(wash_vapour::bubble_point(0.1, p).boiling_c));
        CHECK(std::isnan(wash_vapour::bubble_point(0.1, p).vapour));
        CHECK(std::isnan(wash_vapour::dew_point(0.1, p).liquid));
        CHECK(std::isnan(wash_vapour::azeotrope(p).abw));
        CHECK_THROWS_AS(boiling(0.1, 0.0, p, 180.0), ferment::RangeError);
        CHECK_THROWS_AS(dew_point(10.0 * percent_mass, typed), ferment::RangeError);
        CHECK_THROWS_AS(azeotrope(typed), ferment::RangeError);
    }
    for (const double e : {below(0.0), above(1.0), infinity, -infinity}) {
        CAPTURE(e);
        CHECK(std::isnan(wash_vapour::bubble_point(e, atmosphere).boiling_c));
        CHECK(std::isnan(wash_vapour::dew_point(e, atmosphere).liquid));
        CHECK(std::isnan(wash_vapour::mole_fraction(e)));
        CHECK(std::isnan(wash_vapour::mass_fraction(e)));
        CHECK_THROWS_AS(boiling(e, 0.0, atmosphere, 180.0), ferment::RangeError);
        CHECK_THROWS_AS(dew_point(abw<>::from_value(e), 100.0 * kilopascal), ferment::RangeError);
        CHECK_THROWS_AS(ferment::mole_fraction_from_abw(abw<>::from_value(e)), ferment::RangeError);
        CHECK_THROWS_AS(ferment::abw_from_mole_fraction(ferment::mole_fraction<>::from_value(e)), ferment::RangeError);
    }
    for (const double x : {below(0.0), 0.3001, infinity}) {
        CHECK(std::isnan(wash_vapour::bubble_point(0.1, x, atmosphere).boiling_c));
        CHECK_THROWS_AS(boiling(0.1, x, atmosphere, 180.0), ferment::RangeError);
    }
    for (const double m : {below(60.0), above(2000.0), 0.0, -180.0}) {
        CHECK(std::isnan(wash_vapour::bubble_point(0.1, 0.02, atmosphere, m).boiling_c));
        CHECK_THROWS_AS(boiling(0.1, 0.02, atmosphere, m), ferment::RangeError);
    }
    CHECK_THROWS_AS(boiling(0.8, 0.25, atmosphere, 180.0), ferment::RangeError);  // more extract than the rest can hold
    for (const double t : {below(0.01), above(373.946), infinity}) {
        CHECK(std::isnan(dippr101_water::vapour_pressure(t)));
        CHECK_THROWS_AS(ferment::water_vapour_pressure(t * degree_celsius), ferment::RangeError);
    }
    for (const double t : {below(-114.1), above(240.85), -infinity}) {
        CHECK(std::isnan(dippr101_ethanol::vapour_pressure(t)));
        CHECK_THROWS_AS(ferment::ethanol_vapour_pressure(t * degree_celsius), ferment::RangeError);
    }
    for (const double h : {below(-5000.0), above(11000.0), infinity}) {
        CHECK(std::isnan(standard_atmosphere::pressure(h)));
        CHECK_THROWS_AS(ferment::pressure_at_altitude(h * metre), ferment::RangeError);
        CHECK_THROWS_AS(ferment::station_pressure(101.325 * kilopascal, h * metre), ferment::RangeError);
    }
    for (const double p : {22e3, 180e3, 0.0, -1.0}) {
        CHECK(std::isnan(standard_atmosphere::altitude(p)));
        CHECK_THROWS_AS(ferment::altitude_of_pressure(ferment::pressure<>::from_value(p)), ferment::RangeError);
    }
    for (const double p : {below(85e3), above(110e3)}) {
        CHECK(std::isnan(standard_atmosphere::station_pressure(p, 100.0)));
        CHECK_THROWS_AS(ferment::station_pressure(ferment::pressure<>::from_value(p), 100.0 * metre), ferment::RangeError);
    }
}

TEST_CASE("vapour: NaN in, NaN out", "[liquid][vapour][edges]") {
    const double n = not_a_number;
    const auto nan_w = abw<>::from_value(n);
    const auto nan_p = ferment::pressure<>::from_value(n);
    const auto nan_x = ferment::extract<>::from_value(n);
    const auto p = 100.0 * kilopascal;
    for (const auto& found : {bubble_point(nan_w, p), bubble_point(5.0 * percent_mass, nan_p), bubble_point(5.0 * percent_mass, nan_x, p),
                              bubble_point(5.0 * percent_mass, 0.02 * 100.0 * ferment::degree_plato, p, n)}) {
        CHECK(std::isnan(found.temperature.value()));
        CHECK(std::isnan(found.vapour.value()));
        CHECK(std::isnan(found.relative_volatility));
        CHECK(std::isnan(found.k_ethanol));
        CHECK(std::isnan(found.k_water));
    }
    CHECK(std::isnan(dew_point(nan_w, p).liquid.value()));
    CHECK(std::isnan(dew_point(nan_w, p).temperature.value()));
    CHECK(std::isnan(dew_point(5.0 * percent_mass, nan_p).liquid.value()));
    CHECK(std::isnan(azeotrope(nan_p).strength.value()));
    CHECK(std::isnan(azeotrope(nan_p).temperature.value()));
    CHECK(std::isnan(ferment::water_vapour_pressure(n * degree_celsius).value()));
    CHECK(std::isnan(ferment::ethanol_vapour_pressure(n * degree_celsius).value()));
    CHECK(std::isnan(ferment::mole_fraction_from_abw(nan_w).value()));
    CHECK(std::isnan(ferment::abw_from_mole_fraction(ferment::mole_fraction<>::from_value(n)).value()));
    CHECK(std::isnan(ferment::pressure_at_altitude(n * metre).value()));
    CHECK(std::isnan(ferment::altitude_of_pressure(nan_p).value()));
    CHECK(std::isnan(ferment::station_pressure(nan_p, 100.0 * metre).value()));
    CHECK(std::isnan(ferment::station_pressure(p, n * metre).value()));
}

TEST_CASE("vapour: a course of bubble points is that of single ones", "[liquid][vapour]") {
    constexpr double round_off = 1e-13;
    constexpr int steps = 400;
    wash_vapour::bubble_course course;
    double worst_c = 0.0, worst_vapour = 0.0, worst_volatility = 0.0;
    for (int i = 0; i < steps; ++i) {
        // From nothing to pure ethanol and back in small steps, with a jump now and then, and what has no answer in between.
        const double along = static_cast<double>((i % 10 == 9 ? 173 * i : i) % steps) / (steps - 1);
        const double w = 0.5 - 0.5 * std::cos(6.0 * along);
        const double x = 0.25 * along * (1.0 - w);
        const double p = 101e3 - 60e3 * along;
        const auto once = wash_vapour::bubble_point(w, x, p, 180.0);
        const auto followed = course.at(w, x, p, 180.0);
        worst_c = std::max(worst_c, std::abs(followed.boiling_c - once.boiling_c) / (once.boiling_c + zero_celsius_kelvin));
        worst_vapour = std::max(worst_vapour, std::abs(followed.vapour - once.vapour));
        worst_volatility = std::max(worst_volatility, std::abs(followed.relative_volatility / once.relative_volatility - 1.0));
        if (i % 50 == 25) CHECK(std::isnan(course.at(1.5, 0.0, p, 180.0).boiling_c));
    }
    CHECK(worst_c <= round_off);
    CHECK(worst_vapour <= round_off);
    CHECK(worst_volatility <= round_off);
    // The first is exactly that of bubble_point.
    wash_vapour::bubble_course fresh;
    CHECK(fresh.at(0.3, 0.02, 95e3, 180.0).boiling_c == wash_vapour::bubble_point(0.3, 0.02, 95e3, 180.0).boiling_c);
}

TEST_CASE("vapour: the errors name quantity, value, unit and range", "[liquid][vapour][edges]") {
    const auto p = 101.325 * kilopascal;
    check_refused([] { bubble_point(8.0 * percent_mass, 10.0 * kilopascal); }, "pressure 10 kPa is outside 20 to 110 kPa (modified Raoult's law");
    check_refused([&] { bubble_point(120.0 * percent_mass, p); }, "abw 120 % mass is outside 0 to 100 % mass");
    check_refused([&] { bubble_point(8.0 * percent_mass, 40.0 * ferment::degree_plato, p); }, "extract 40 % mass is outside 0 to 30 % mass");
    check_refused([&] { bubble_point(8.0 * percent_mass, 4.0 * ferment::degree_plato, p, 18.0); },
                  "molar mass of the extract 18 g/mol is outside 60 to 2000 g/mol");
    check_refused([&] { dew_point(-1.0 * percent_mass, p); }, "vapour strength -1 % mass is outside 0 to 100 % mass");
    check_refused([] { ferment::water_vapour_pressure(-5.0 * degree_celsius); }, "temperature -5 degC is outside 0.01 to 373.946 degC (Perry");
    check_refused([] { ferment::pressure_at_altitude(12000.0 * metre); }, "altitude 12000 m is outside -5000 to 11000 m (ICAO");
    check_refused([] { ferment::altitude_of_pressure(5.0 * kilopascal); }, "pressure 5 kPa is outside 22.6");
    check_refused([] { ferment::station_pressure(70.0 * kilopascal, 100.0 * metre); }, "pressure at sea level 70 kPa is outside 85 to 110 kPa");
}
