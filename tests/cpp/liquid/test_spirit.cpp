#include <algorithm>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/water.hpp>

#include "checks.hpp"

using ferment::degree_celsius;
using ferment::kilogram_per_cubic_metre;
using ferment::oiml_r22;
using ferment::percent_mass;
using ferment::percent_vol;
using ferment::sixty_fahrenheit_c;
using ferment::us_proof_degree;
using ferment::volume_at_20c;
using ferment::volume_at_60f;
using namespace ferment_test;

namespace {

constexpr double g_ml = 1000.0;         // kg/m3; 1 g/mL
constexpr double old_litre = 0.999972;  // g/cm3 in one g/mL "relative to water at 4 degC" of the tables before 1964
constexpr double percent = 100.0;
constexpr double air = ferment::conventional_air_density;

double density(const double mass_percent, const double t) {
    return ferment::spirit_density(mass_percent * percent_mass, t * degree_celsius).value();
}
double from_fahrenheit(const double f) {
    return (f - 32.0) / 1.8;
}
/// Density of water of the same formula, kg/m3: gravities of spirits are ratios to it.
double water(const double t) {
    return density(0.0, t);
}
double gravity_in_air(const double mass_percent, const double t) {
    return (density(mass_percent, t) - air) / (water(t) - air);
}
double mass_percent_of_proof(const double proof) {
    return ferment::value_in(ferment::abw_from_us_proof(proof * us_proof_degree), percent_mass);
}
double mass_percent_of_volume_at_60f(const double vol_percent) {
    return mass_percent_of_proof(2.0 * vol_percent);
}
/// Parts of water, measured before mixing, in 100 volumes of a spirit, all at 60 degF.
double parts_of_water(const double proof) {
    const double p = mass_percent_of_proof(proof);
    return density(p, sixty_fahrenheit_c) * (percent - p) / water(sixty_fahrenheit_c);
}

struct Entry {
    double result;
    double tolerance;
};

/// One row of the worked examples of the gauging regulations.
Entry gauging(const std::string& id) {
    for (const Row& row : read_table("ethanol_water/worked_examples_gauging.csv")) {
        if (row.text("id") == id) return {row.number("result"), row.number("tolerance")};
    }
    throw std::runtime_error("no worked example " + id);
}

/// Weight of a gallon in air, lb, as the regulations have it: water 8.32823 lb/gal times the gravity in air.
double pounds_per_gallon(const double proof) {
    return gauging("water_lb_wg").result * gravity_in_air(mass_percent_of_proof(proof), sixty_fahrenheit_c);
}

void check_gauging(const std::string& id, const double computed) {
    const Entry entry = gauging(id);
    CAPTURE(id, computed, entry.result, entry.tolerance);
    CHECK(std::abs(computed - entry.result) <= entry.tolerance);
}

/// Excess molar volume, cm3/mol, at a mole fraction of ethanol.
double excess_volume(const double x, const double t) {
    constexpr double ethanol = 46.068;  // g/mol
    constexpr double water_mass = 18.0153;
    const double grams = x * ethanol + (1.0 - x) * water_mass;
    const double cm3 = 1000.0;  // cm3/g in one m3/kg
    return cm3 * (grams / density(percent * x * ethanol / grams, t) - x * ethanol / density(100.0, t) - (1.0 - x) * water_mass / water(t));
}

}  // namespace

TEST_CASE("spirit: the 54 coefficients are those of the directive and its transcriptions, digit by digit", "[liquid][spirit][published]") {
    const auto coefficient = [](const std::string& set, const std::string& row, const std::size_t k) {
        if (set == "A") return oiml_r22::a.at(k - 1);
        if (set == "B") return oiml_r22::b.at(k - 1);
        switch (row.at(0)) {
            case '1': return oiml_r22::c1.at(k - 1);
            case '2': return oiml_r22::c2.at(k - 1);
            case '3': return oiml_r22::c3.at(k - 1);
            case '4': return oiml_r22::c4.at(k - 1);
            case '5': return oiml_r22::c5.at(k - 1);
            default: throw std::runtime_error("no such row of C");
        }
    };
    const std::vector<Row> rows = read_table("ethanol_water/coefficients.csv");
    REQUIRE(rows.size() == 12 + 6 + 36);
    for (const Row& row : rows) {
        CAPTURE(row.line(), row.text("set"), row.text("i"), row.text("k"));
        CHECK(coefficient(row.text("set"), row.text("i"), static_cast<std::size_t>(row.number("k"))) == row.number("value"));
    }
}

TEST_CASE("spirit: values of the general formula", "[liquid][spirit][published]") {
    SECTION("density over mass percent and temperature") {
        Worst worst;
        for (const Row& row : read_table("ethanol_water/oiml_formula_computed_grid.csv")) {
            worst.add(density(row.number("mass_percent"), row.number("t_C")) - row.number("rho_kg_m3"), row.line());
        }
        CAPTURE(worst.line);
        CHECK(worst.value <= 2e-6);
    }
    SECTION("mass percent and density from volume percent at 20 degC and at 60 degF") {
        constexpr double fifth_decimal = 0.5e-5 + 1e-9;  // kg/m3
        Worst mass_20;
        Worst rho_20;
        Worst mass_60;
        Worst rho_60;
        for (const Row& row : read_table("ethanol_water/oiml_formula_computed_strength.csv")) {
            const double q = row.number("vol_percent");
            const double p20 = ferment::value_in(ferment::abw_from_abv(q * percent_vol), percent_mass);
            const double p60 = mass_percent_of_volume_at_60f(q);
            mass_20.add(p20 - row.number("mass_percent_if_vol_at_20C"), row.line());
            rho_20.add(density(p20, 20.0) - row.number("rho20_kg_m3_if_vol_at_20C"), row.line());
            mass_60.add(p60 - row.number("mass_percent_if_vol_at_60F"), row.line());
            rho_60.add(density(p60, sixty_fahrenheit_c) - row.number("rho60F_kg_m3_if_vol_at_60F"), row.line());
        }
        CAPTURE(mass_20.line, rho_20.line, mass_60.line, rho_60.line);
        CHECK(mass_20.value <= 1e-6);
        CHECK(rho_20.value <= fifth_decimal);
        CHECK(mass_60.value <= 1e-6);
        CHECK(rho_60.value <= fifth_decimal);
    }
}

TEST_CASE("spirit: pure ethanol from 5 to 40 degC equals the international table, all eight rounded values", "[liquid][spirit][published]") {
    std::size_t equal = 0;
    for (const Row& row : read_table("ethanol_water/pure_ethanol_density.csv")) {
        if (row.text("quantity") != "kg/m3") continue;
        const double rounded = std::round(100.0 * density(100.0, row.number("t_C")));
        CAPTURE(row.line(), rounded);
        CHECK(rounded == std::round(100.0 * row.number("value")));
        ++equal;
    }
    CHECK(equal == 8);
}

TEST_CASE("spirit: pure ethanol of other sources", "[liquid][spirit][published]") {
    constexpr double nbs = 1.2e-4 * g_ml;  // kg/m3, NBS 1913 against the formula over its whole table
    constexpr double law_print = 0.5e-4;   // 27 CFR 30.11 prints four decimals
    constexpr double law_and_nbs = 7e-5;   // and rests on NBS 1913: 0.79389 against 0.79382
    constexpr double other = 1e-4;         // relative
    std::size_t older = 0;
    for (const Row& row : read_table("ethanol_water/pure_ethanol_density.csv")) {
        const std::string quantity = row.text("quantity");
        const std::string source = row.text("source");
        const double value = row.number("value");
        if (quantity == "kg/m3") continue;                                     // the test above
        if (source.find("not quite absolute") != std::string::npos) continue;  // the source itself says so
        const double t = row.number("t_C") == 15.6 ? sixty_fahrenheit_c : row.number("t_C");
        const double rho = density(100.0, t);
        CAPTURE(row.line(), quantity, rho);
        if (quantity == "g/mL") {
            CHECK(std::abs(rho - value * g_ml * old_litre) <= nbs);
        } else if (begins(quantity, "sp. gr. 60/60")) {
            CHECK(std::abs(rho / water(t) - value) <= law_print + law_and_nbs);
        } else if (quantity.find("in air") != std::string::npos) {
            CHECK(std::abs((rho - air) / (water(t) - air) - value) <= other);
        } else if (begins(quantity, "sp. gr. t/3.9") || begins(quantity, "sp. gr. 15.6/15.6")) {
            // Nineteenth-century alcohol is heavier than the formula has it, never lighter: 1.8e-4 (Mendeleev, 15 degC), 3.7e-4 (Mendeleev 1865,
            // 30 degC), 1.7e-4 (Young 1902), 1.5e-4 (Klason and Norlin 1906), as if up to 0.1 % of water were left in it.
            const double ratio = rho / water(begins(quantity, "sp. gr. t/3.9") ? 3.9 : t);
            CHECK(ratio <= value + other);
            CHECK(ratio >= value - 3.7e-4);
            ++older;
        } else {
            CHECK(std::abs(rho / (value * g_ml) - 1.0) <= other);
        }
    }
    CHECK(older == 6);
}

TEST_CASE("spirit: NBS 1913 as printed in Lange's Handbook", "[liquid][spirit][published]") {
    const auto column = [](const std::string& name, const double t, const bool is_ratio) {
        Worst worst;
        for (const Row& row : read_table("ethanol_water/nbs_density_by_mass_lange.csv")) {
            // A flag names the misprinted columns of its row ("d10 off the trend ...").
            if (!row.has(name) || row.text("flag").find(name.substr(0, 3)) != std::string::npos) continue;
            const double rho = density(row.number("mass_percent"), t);
            worst.add((is_ratio ? rho / water(t) : rho / g_ml / old_litre) - row.number(name), row.line());
        }
        return worst;
    };
    constexpr double tolerance = 1.2e-4;  // g/mL, the formula against this table over all columns
    const Worst at_10 = column("d10_4", 10.0, false);
    const Worst at_20 = column("d20_4", 20.0, false);
    const Worst at_25 = column("d25_4", 25.0, false);
    const Worst at_30 = column("d30_4", 30.0, false);
    const Worst ratio_20 = column("d20_20", 20.0, true);
    const Worst ratio_25 = column("d25_25", 25.0, true);
    CAPTURE(at_10.line, at_20.line, at_25.line, at_30.line, ratio_20.line, ratio_25.line);
    CHECK(at_10.value <= tolerance);
    CHECK(at_20.value <= tolerance);
    CHECK(at_25.value <= tolerance);
    CHECK(at_30.value <= tolerance);
    CHECK(ratio_20.value <= tolerance);
    CHECK(ratio_25.value <= tolerance);
}

TEST_CASE("spirit: NBS 1913 from 45 to 85 % mass, 10 to 40 degC", "[liquid][spirit][published]") {
    for (int t = 10; t <= 40; t += 5) {
        const std::string column = "d_" + std::to_string(t) + "C_g_mL";
        Worst worst;
        for (const Row& row : read_table("ethanol_water/nbs_density_45_85.csv")) {
            worst.add(density(row.number("mass_percent"), t) / g_ml / old_litre - row.number(column), row.line());
        }
        CAPTURE(t, worst.line);
        CHECK(worst.value <= 1.3e-4);
    }
}

TEST_CASE("spirit: CRC Handbook, 102nd ed., at 20 degC", "[liquid][spirit][published]") {
    constexpr double molar_mass = 46.068;  // g/mol, of the table
    Worst rho;
    Worst weak_rows;
    Worst molarity;
    for (const Row& row : read_table("ethanol_water/crc_ethanol_20C.csv")) {
        const double p = row.number("mass_percent");
        Worst& worst = p >= 78.0 && p <= 82.0 ? weak_rows : rho;
        worst.add(density(p, 20.0) / g_ml - row.number("density_g_cm3"), row.line());
        // The molarity of the weak rows repeats their density.
        if (&worst == &rho) molarity.add(p / percent * density(p, 20.0) / molar_mass - row.number("molarity_mol_L"), row.line());
    }
    CAPTURE(rho.line, weak_rows.line, molarity.line);
    CHECK(rho.value <= 2e-4);
    CHECK(weak_rows.value <= 3e-4);
    CHECK(molarity.value <= 0.004);
}

TEST_CASE("spirit: alcoholometric table of the pharmacopeia, 60 degF, gravities in air", "[liquid][spirit][published]") {
    Worst strength;
    Worst gravity;
    for (const Row& row : read_table("ethanol_water/usp_alcoholometric_0_32.csv")) {
        const double p = mass_percent_of_volume_at_60f(row.number("vol_percent"));
        strength.add(p - row.number("mass_percent"), row.line());
        gravity.add(gravity_in_air(p, 25.0) - row.number("sg_air_25_25"), row.line());
        gravity.add(gravity_in_air(p, sixty_fahrenheit_c) - row.number("sg_air_60F_60F"), row.line());
        const double p2 = row.number("mass_percent_2");
        strength.add(0.5 * ferment::us_proof_from_abw(p2 * percent_mass).value() - row.number("vol_percent_2"), row.line());
        gravity.add(gravity_in_air(p2, 25.0) - row.number("sg_air_25_25_2"), row.line());
        gravity.add(gravity_in_air(p2, sixty_fahrenheit_c) - row.number("sg_air_60F_60F_2"), row.line());
    }
    CAPTURE(strength.line, gravity.line);
    CHECK(strength.value <= 0.01);
    CHECK(gravity.value <= 1e-4);
}

TEST_CASE("spirit: Tralles, a historical table", "[liquid][spirit][published]") {
    constexpr double heaviest_c = 3.983035;  // degC, Tanaka 2001
    const double heaviest_water = ferment::water_density(heaviest_c * degree_celsius).value();
    Worst to_90;
    Worst to_100;
    for (const Row& row : read_table("ethanol_water/tralles_volume_percent_sg_60F.csv")) {
        const double q = row.number("vol_percent_60F");
        const double rho = density(mass_percent_of_volume_at_60f(q), sixty_fahrenheit_c);
        (q <= 90.0 ? to_90 : to_100).add(rho / heaviest_water - row.number("sg_60F_over_water_at_max_density"), row.line());
    }
    CAPTURE(to_90.line, to_100.line);
    CHECK(to_90.value <= 3e-4);
    CHECK(to_100.value <= 9e-4);  // his absolute alcohol held some water
}

TEST_CASE("spirit: below 0 degC within the engineering accuracy of Melinder 2010", "[liquid][spirit][published]") {
    Worst worst;
    for (const Row& row : read_table("ethanol_water/melinder_density_below_20C.csv")) {
        const double p = row.number("mass_percent");
        const double t = row.number("t_C");
        if (t < oiml_r22::t_range.lower) {  // outside the general formula: refused
            CHECK_THROWS_AS(density(p, t), ferment::RangeError);
        } else {
            worst.add(density(p, t) - row.number("rho_kg_m3"), row.line());
        }
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 2.0);
}

TEST_CASE("spirit: the freezing limit against tables of freezing points", "[liquid][spirit][published]") {
    SECTION("CRC Handbook, which it is fitted to") {
        Worst worst;
        for (const Row& row : read_table("ethanol_water/crc_ethanol_20C.csv")) {
            if (!row.has("freezing_depression_C") || row.number("freezing_depression_C") > 20.0) continue;
            worst.add(percent * oiml_r22::least_liquid_abw(-row.number("freezing_depression_C")) - row.number("mass_percent"), row.line());
        }
        CAPTURE(worst.line);
        CHECK(worst.value <= 0.06);  // % mass, the largest residual of the fit
    }
    SECTION("none above 0 degC") {
        CHECK(oiml_r22::least_liquid_abw(0.0) == 0.0);
        CHECK(oiml_r22::least_liquid_abw(20.0) == 0.0);
    }
}

TEST_CASE("spirit: mass percent of dilute distillates from gravity 20/20, GOST 12787", "[liquid][spirit][published]") {
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/gost12787_distillate_specific_gravity_alcohol.csv")) {
        const double rho = row.number("specific_gravity_20_20") * water(20.0);
        const auto strength = ferment::abw_from_density(rho * kilogram_per_cubic_metre, 20.0 * degree_celsius);
        worst.add(ferment::value_in(strength, percent_mass) - row.number("ethanol_mass_pct"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 0.025);
}

TEST_CASE("spirit: hydrous fuel ethanol, mass percent from the reading of a glass densimeter at 22.5 to 25 degC", "[liquid][spirit][published]") {
    constexpr double glass = 25e-6;  // 1/K, ISO 1768
    Worst worst;
    Worst odd;
    for (const Row& row : read_table("ethanol_water/fuel_ethanol_densimeter_22_25C.csv")) {
        const double t = row.number("t_C");
        const double reading = row.number("density_reading_g_mL");
        const double rho = g_ml * reading * (1.0 - glass * (t - 20.0));
        const auto strength = ferment::abw_from_density(rho * kilogram_per_cubic_metre, t * degree_celsius);
        // The last row at 24.0 degC does not follow its neighbours.
        (t == 24.0 && reading == 0.8085 ? odd : worst).add(ferment::value_in(strength, percent_mass) - row.number("mass_percent"), row.line());
    }
    CAPTURE(worst.line, odd.line);
    CHECK(worst.value <= 0.15);
    CHECK(odd.rows == 1);
    CHECK(odd.value <= 0.185);  // 0.18 to two decimals
}

TEST_CASE("spirit: US Gauging Manual, tables and worked examples", "[liquid][spirit][published]") {
    SECTION("Table 6, parts of water in 100 parts of spirit") {
        check_gauging("T6_191", parts_of_water(191.0));
        check_gauging("T6_188", parts_of_water(188.0));
        check_gauging("T6_112", parts_of_water(112.0));
        check_gauging("T6_100", parts_of_water(100.0));
        check_gauging("T6_reduce_112_100", 1.12 * parts_of_water(100.0) - parts_of_water(112.0));
    }
    SECTION("Tables 3, 4 and 5, weight in air and volume") {
        check_gauging("T5_190_wg", pounds_per_gallon(190.0));
        check_gauging("T5_190_pg", pounds_per_gallon(190.0) / 1.90);
        check_gauging("T4_190_wg", 1.0 / pounds_per_gallon(190.0));
        check_gauging("T4_190_pg", 1.90 / pounds_per_gallon(190.0));
        check_gauging("T4_tank_wg", 81000.0 / pounds_per_gallon(190.0));
        check_gauging("T4_200_pg", 1000.0 * 2.00 / pounds_per_gallon(200.0));
        check_gauging("T3_86", 321.5 * 0.86 / pounds_per_gallon(86.0));
        check_gauging("water_wg_lb", 1.0 / gauging("water_lb_wg").result);
    }
    SECTION("Table 4, water by weight to reduce 1000 lb of 200 proof to 190 proof: weight of the mixture by proof gallons") {
        check_gauging("T4_reduce_200_190", 1000.0 * (2.00 / pounds_per_gallon(200.0)) / (1.90 / pounds_per_gallon(190.0)) - 1000.0);
    }
    SECTION("Table 7, volume correction to 60 degF") {
        const auto factor = [](const double proof, const double fahrenheit) {
            const double p = mass_percent_of_proof(proof);
            return density(p, from_fahrenheit(fahrenheit)) / density(p, sixty_fahrenheit_c);
        };
        check_gauging("T7_115_68", factor(115.0, 68.0));
        check_gauging("T7_868_72", factor(86.8, 72.0));
    }
    SECTION("weights to put in a container, rounded up to the next ounce") {
        struct Fill {
            const char* id;
            double gallons, proof;
        };
        constexpr Fill fills[] = {{"w44_190_1", 1.0, 190.0}, {"w44_190_5", 5.0, 190.0}, {"w44_190_10", 10.0, 190.0},
                                  {"w44_192_1", 1.0, 192.0}, {"w44_192_2", 2.0, 192.0}, {"w44_192_10", 10.0, 192.0},
                                  {"w44_200_1", 1.0, 200.0}, {"w44_200_2", 2.0, 200.0}, {"w44_200_5", 5.0, 200.0}};
        for (const Fill& fill : fills) {
            const Entry entry = gauging(fill.id);
            const double pounds = fill.gallons * pounds_per_gallon(fill.proof);
            CAPTURE(fill.id, pounds, entry.result);
            CHECK(entry.result - pounds >= -0.005);  // printed to 0.01
            CHECK(entry.result - pounds <= entry.tolerance);
        }
    }
    SECTION("gallon of water in air: the regulation weighs in slightly heavier air than the conventional 1.2 kg/m3") {
        constexpr double cubic_metres_per_gallon = 231.0 * 16.387064e-6;  // US gallon: 231 cubic inches
        constexpr double kilograms_per_pound = 0.45359237;
        const auto in_air = ferment::density_in_air(ferment::water_density(sixty_fahrenheit_c * degree_celsius));
        const double pounds = in_air.value() * cubic_metres_per_gallon / kilograms_per_pound;
        CAPTURE(pounds);
        // 8.32843 lb/gal here, 8.32823 printed: 2.4e-5, the buoyancy of 0.024 kg/m3 of air.
        CHECK(std::abs(pounds / gauging("water_lb_wg").result - 1.0) <= 3e-5);
    }
}

TEST_CASE("spirit: filling 95 % spirit at 23 degC, worked example of a Russian standard", "[liquid][spirit][published]") {
    const auto strength = ferment::abw_from_density(801.58 * kilogram_per_cubic_metre, 23.0 * degree_celsius);
    const double at_20 = ferment::spirit_density(strength, 20.0 * degree_celsius).value();
    CHECK(std::abs(at_20 - 804.20) <= 0.05);  // printed 0.80420; the ratio is 0.99674 printed, 0.99677 by the formula
    check_gauging("gost_fill", 510.0 * 801.58 / at_20);
}

TEST_CASE("spirit: contraction on mixing, published statements", "[liquid][spirit][published]") {
    const auto statement = [](const std::string& id) {
        for (const Row& row : read_table("ethanol_water/mixing_contraction.csv")) {
            if (row.text("id") == id) return Entry{row.number("result"), row.number("tolerance")};
        }
        throw std::runtime_error("no statement " + id);
    };
    const auto volume_of = [](const double ethanol, const double water_volume) {  // volumes at 60 degF
        const double t = sixty_fahrenheit_c;
        const double ethanol_mass = ethanol * density(100.0, t);
        const double total = ethanol_mass + water_volume * water(t);
        return total / density(percent * ethanol_mass / total, t);
    };
    SECTION("excess volume at mole fraction 0.082, 5 to 35 degC") {
        const Entry entry = statement("VE_x0082");
        for (const double t : {5.0, 15.0, 25.0, 35.0}) {
            CAPTURE(t, excess_volume(0.082, t));
            CHECK(std::abs(excess_volume(0.082, t) - entry.result) <= entry.tolerance);
        }
    }
    SECTION("partial molar excess volume of ethanol at mole fraction 0.038: a disagreement") {
        const Entry entry = statement("VE_partial_x0038");
        const double x = 0.038;
        const double partial = excess_volume(x, 25.0) + (1.0 - x) * central_difference([](const double y) { return excess_volume(y, 25.0); }, x);
        CAPTURE(partial);
        // Published -5.23 +- 0.05 cm3/mol; the formula has -5.293 at 25 degC (-5.29 to -5.32 from 5 to 35 degC). 0.013 is the rounding of 0.038.
        constexpr double formula = -5.293;
        CHECK(std::abs(partial - formula) <= 0.0005);
        CHECK(std::abs(partial - entry.result) > entry.tolerance);
    }
    SECTION("US proof spirit: 50 volumes and 53.73 volumes give 100") {
        const Entry entry = statement("proof_US");
        CHECK(std::abs(volume_of(50.0, 53.73) - entry.result) <= entry.tolerance);
    }
    SECTION("UK proof spirit of the 19th century") {
        const Entry by_volume = statement("proof_UK_volume");
        CHECK(std::abs(volume_of(57.06, 46.68) - by_volume.result) <= by_volume.tolerance);
        const Entry mix = statement("proof_UK_mix");
        CHECK(std::abs(volume_of(100.0, 81.80) - mix.result) <= mix.tolerance);
        const Entry by_mass = statement("proof_UK_mass");
        CHECK(std::abs(density(49.24, sixty_fahrenheit_c) / water(sixty_fahrenheit_c) - by_mass.result) <= by_mass.tolerance);
    }
    SECTION("UK proof spirit of the law before 1980: 12/13 of the weight of as much water, both at 51 degF") {
        const Entry law = statement("proof_UK_law");
        const double t = from_fahrenheit(51.0);
        const auto strength = ferment::abw_from_density(12.0 / 13.0 * water(t) * kilogram_per_cubic_metre, t * degree_celsius);
        const double gravity = ferment::spirit_density(strength, sixty_fahrenheit_c * degree_celsius).value() / water(sixty_fahrenheit_c);
        CHECK(std::abs(gravity - law.result) <= law.tolerance);
        CHECK(std::abs(ferment::value_in(ferment::abv_from_abw(strength), percent_vol) - 57.15) <= 0.005);
    }
}

TEST_CASE("spirit: US proof and % vol at 20 degC are two definitions", "[liquid][spirit][published]") {
    // 100 proof is 50 % vol at 60 degF and 50.06 % vol at 20 degC, by the formula.
    CHECK(std::abs(ferment::value_in(ferment::abv_from_us_proof(100.0 * us_proof_degree), percent_vol) - 50.06) <= 0.005);
    CHECK(std::abs(ferment::us_proof_from_abv(50.0 * percent_vol).value() - 99.88) <= 0.005);
    CHECK(ferment::us_proof_from_abw(100.0 * percent_mass).value() == 200.0);
    CHECK(ferment::us_proof_from_abw(0.0 * percent_mass).value() == 0.0);
}

TEST_CASE("spirit: both ends belong to the range, the next number beyond does not", "[liquid][spirit][edges]") {
    for (const double p : {0.0, -0.0, 1.0}) {
        CAPTURE(p);
        CHECK(std::isfinite(oiml_r22::density(p, 20.0)));
        CHECK(ferment::spirit_density(ferment::abw<>::from_value(p), 20.0 * degree_celsius).value() == oiml_r22::density(p, 20.0));
    }
    CHECK(density(100.0, -20.0) == oiml_r22::density(1.0, -20.0));
    CHECK(density(0.0, -0.0) == density(0.0, 0.0));
    CHECK(std::isfinite(density(0.0, 40.0)));
    for (const double p : {below(0.0), above(1.0), infinity, -infinity}) {
        CAPTURE(p);
        CHECK(std::isnan(oiml_r22::density(p, 20.0)));
        CHECK(std::isnan(volume_at_20c::from_abw(p)));
        CHECK(std::isnan(volume_at_20c::to_abw(p)));
        CHECK_THROWS_AS(ferment::spirit_density(ferment::abw<>::from_value(p), 20.0 * degree_celsius), ferment::RangeError);
        CHECK_THROWS_AS(ferment::spirit_density(ferment::abv<>::from_value(p), 20.0 * degree_celsius), ferment::RangeError);
        CHECK_THROWS_AS(ferment::abv_from_abw(ferment::abw<>::from_value(p)), ferment::RangeError);
        CHECK_THROWS_AS(ferment::abw_from_abv(ferment::abv<>::from_value(p)), ferment::RangeError);
        CHECK_THROWS_AS(ferment::us_proof_from_abw(ferment::abw<>::from_value(p)), ferment::RangeError);
        CHECK_THROWS_AS(ferment::us_proof_from_abv(ferment::abv<>::from_value(p)), ferment::RangeError);
    }
    for (const double proof : {below(0.0), above(200.0), infinity, -infinity}) {
        CAPTURE(proof);
        CHECK_THROWS_AS(ferment::abw_from_us_proof(proof * us_proof_degree), ferment::RangeError);
        CHECK_THROWS_AS(ferment::abv_from_us_proof(proof * us_proof_degree), ferment::RangeError);
    }
    for (const double t : {below(-20.0), above(40.0), infinity, -infinity}) {
        CAPTURE(t);
        CHECK(std::isnan(oiml_r22::density(0.5, t)));
        CHECK(std::isnan(oiml_r22::abw_from_density(900.0, t)));
        CHECK_THROWS_AS(density(50.0, t), ferment::RangeError);
        CHECK_THROWS_AS(ferment::abw_from_density(900.0 * kilogram_per_cubic_metre, t * degree_celsius), ferment::RangeError);
    }
}

TEST_CASE("spirit: what would be frozen is refused", "[liquid][spirit][edges]") {
    for (const double t : {-20.0, -10.0, -1.0}) {
        const double least = oiml_r22::least_liquid_abw(t);
        CAPTURE(t, least);
        CHECK(std::isfinite(oiml_r22::density(least, t)));
        CHECK(std::isfinite(ferment::spirit_density(ferment::abw<>::from_value(least), t * degree_celsius).value()));
        CHECK(std::isnan(oiml_r22::density(below(least), t)));
        CHECK_THROWS_AS(ferment::spirit_density(ferment::abw<>::from_value(below(least)), t * degree_celsius), ferment::RangeError);
    }
    CHECK(std::isnan(oiml_r22::density(0.0, -1e-9)));
}

TEST_CASE("spirit: NaN in, NaN out", "[liquid][spirit][edges]") {
    CHECK(std::isnan(density(not_a_number, 20.0)));
    CHECK(std::isnan(density(50.0, not_a_number)));
    CHECK(std::isnan(oiml_r22::abw_from_density(not_a_number, 20.0)));
    CHECK(std::isnan(oiml_r22::abw_from_density(900.0, not_a_number)));
    CHECK(std::isnan(ferment::abw_from_density(not_a_number * kilogram_per_cubic_metre, 20.0 * degree_celsius).value()));
    CHECK(std::isnan(ferment::abw_from_density(900.0 * kilogram_per_cubic_metre, not_a_number * degree_celsius).value()));
    CHECK(std::isnan(ferment::abv_from_density(900.0 * kilogram_per_cubic_metre, not_a_number * degree_celsius).value()));
    CHECK(std::isnan(ferment::abv_from_abw(not_a_number * percent_mass).value()));
    CHECK(std::isnan(ferment::abw_from_abv(not_a_number * percent_vol).value()));
    CHECK(std::isnan(ferment::us_proof_from_abv(not_a_number * percent_vol).value()));
    CHECK(std::isnan(ferment::abv_from_us_proof(not_a_number * us_proof_degree).value()));
}

TEST_CASE("spirit: the inverse accepts both ends and refuses what no mixture has", "[liquid][spirit][edges]") {
    for (const double t : {-20.0, 0.0, 20.0, 40.0}) {
        const double least = oiml_r22::least_liquid_abw(t);
        const double lightest = oiml_r22::raw_density(1.0, t);
        const double heaviest = oiml_r22::raw_density(least, t);
        const auto inverse = [t](const double rho) { return ferment::abw_from_density(rho * kilogram_per_cubic_metre, t * degree_celsius).value(); };
        CAPTURE(t, lightest, heaviest);
        CHECK(inverse(lightest) == 1.0);
        CHECK(inverse(heaviest) == least);
        for (const double rho : {below(lightest), above(heaviest), infinity, -infinity}) {
            CHECK(std::isnan(oiml_r22::abw_from_density(rho, t)));
            CHECK_THROWS_AS(inverse(rho), ferment::RangeError);
        }
    }
}

TEST_CASE("spirit: the errors name quantity, value, unit and range", "[liquid][spirit][edges]") {
    check_refused([] { density(110.0, 20.0); }, "abw 110 % mass is outside 0 to 100 % mass (OIML R 22");
    check_refused([] { density(50.0, 41.0); }, "temperature 41 degC is outside -20 to 40 degC (OIML R 22");
    check_refused([] { density(10.0, -15.0); }, "abw 10 % mass is outside 24.");
    CHECK(range_error([] { density(10.0, -15.0); }).find("at -15 degC a weaker spirit is frozen") != std::string::npos);
    check_refused([] { ferment::abw_from_abv(101.0 * percent_vol); }, "abv 101 % vol is outside 0 to 100 % vol (OIML R 22");
    check_refused([] { ferment::abw_from_us_proof(201.0 * us_proof_degree); }, "us_proof 201 proof is outside 0 to 200 proof (27 CFR 30.11");
    check_refused([] { ferment::abw_from_density(1040.0 * kilogram_per_cubic_metre, 20.0 * degree_celsius); }, "density 1040 kg/m3 is outside 789.23912");
}

TEST_CASE("spirit: eight lanes give what eight scalars give", "[liquid][spirit][lanes]") {
    const Eight p{0.0, 0.05, 0.333, 0.5, 0.96, 1.0, 1.01, not_a_number};
    const Eight t{0.0, 40.0, 15.56, -20.0, 20.0, -20.0, 20.0, 20.0};
    const Eight rho{998.0, 950.0, 900.0, 870.0, 800.0, 790.0, 1020.0, not_a_number};
    check_lanes([](const auto& x, const auto& y) { return oiml_r22::density(x, y); }, p, t);
    check_lanes([](const auto& x, const auto& y) { return oiml_r22::density_slope(x, y); }, p, t);
    check_lanes([](const auto& x, const auto& y) { return oiml_r22::abw_from_density(x, y); }, rho, t);
    check_lanes([](const auto& x) { return oiml_r22::least_liquid_abw(x); }, t);
    check_lanes([](const auto& x) { return volume_at_20c::from_abw(x); }, p);
    check_lanes([](const auto& x) { return volume_at_20c::to_abw(x); }, p);
    check_lanes([](const auto& x) { return volume_at_60f::to_abw(x); }, p);
}

TEST_CASE("spirit: the slope is that of the density", "[liquid][spirit][derivative]") {
    Worst worst;
    for (int i = 1; i < 100; ++i) {
        for (int t = -20; t <= 40; t += 5) {
            const auto at = [t](const double p) { return oiml_r22::raw_density(p, double(t)); };
            worst.add(oiml_r22::density_slope(i / 100.0, double(t)) - central_difference(at, i / 100.0));
        }
    }
    CHECK(worst.value <= 1e-6);  // kg/m3 per unit of mass fraction, of 100 to 400: round-off of the difference
}

TEST_CASE("spirit: density falls with strength, and its inverse is exact over the whole range", "[liquid][spirit][identity]") {
    Worst worst;
    bool falling = true;
    for (int t = -20; t <= 40; t += 2) {
        const double least = oiml_r22::least_liquid_abw(double(t));
        double previous = infinity;
        for (int i = 0; i <= 1000; ++i) {
            const double p = std::min(least + (1.0 - least) * i / 1000.0, 1.0);
            const double rho = oiml_r22::density(p, double(t));
            falling = falling && rho < previous;
            previous = rho;
            worst.add(oiml_r22::abw_from_density(rho, double(t)) - p);
        }
    }
    CHECK(falling);
    CHECK(worst.value <= round_trip);
}

TEST_CASE("spirit: strengths by mass, by volume and proof convert into each other exactly", "[liquid][spirit][identity]") {
    Worst by_volume;
    Worst by_proof;
    Worst across;
    bool rising = true;
    double previous = -1.0;
    for (int i = 0; i <= 2000; ++i) {
        const auto p = ferment::abw<>::from_value(i / 2000.0);
        const auto q = ferment::abv_from_abw(p);
        rising = rising && q.value() > previous;
        previous = q.value();
        by_volume.add(ferment::abw_from_abv(q).value() - p.value());
        by_proof.add(ferment::abw_from_us_proof(ferment::us_proof_from_abw(p)).value() - p.value());
        across.add(ferment::abv_from_us_proof(ferment::us_proof_from_abv(q)).value() - q.value());
    }
    CHECK(rising);
    CHECK(by_volume.value <= round_trip);
    CHECK(by_proof.value <= round_trip);
    CHECK(across.value <= round_trip);
    CHECK(ferment::abv_from_abw(100.0 * percent_mass).value() == 1.0);
    CHECK(ferment::abv_from_abw(0.0 * percent_mass).value() == 0.0);
}

TEST_CASE("spirit: the polynomial gathered at one temperature is the formula", "[liquid][spirit][identity]") {
    Worst worst;
    for (int i = 0; i <= 100; ++i) {
        const double p = i / 100.0;
        worst.add(volume_at_20c::density(p) - oiml_r22::raw_density(p, 20.0));
        worst.add(volume_at_60f::density(p) - oiml_r22::raw_density(p, sixty_fahrenheit_c));
    }
    CHECK(worst.value <= 1e-8);  // kg/m3: round-off of terms of 7e5
    CHECK(std::abs(volume_at_20c::ethanol_density - 789.23912) <= 0.5e-5);
    CHECK(std::abs(volume_at_60f::ethanol_density - 793.03252) <= 0.5e-5);
}
