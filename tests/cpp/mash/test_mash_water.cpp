#include <cmath>
#include <ferment/mash/grain_table.hpp>
#include <ferment/mash/water.hpp>
#include <limits>
#include <string>

#include "catch.hpp"
#include "csv.hpp"

using namespace ferment;
using ferment_test::read_table;

namespace {

const celsius<> twenty = celsius<>::from_value(20.0);
const Assumptions usual{{0.88, 0.04}, {0.96, 0.015}, {0.2, 0.08}};

Bill oats_and_rye() {
    Bill bill;
    bill.add(grain("hulless oats"), 12.0 * kilogram).add(grain("rye"), 8.0 * kilogram);
    return bill;
}

}  // namespace

TEST_CASE("specific volume: the mixing rule of Choi and Okos", "[mash][published]") {
    // Computed from the USDA SR26 composition and the published coefficients; within the last digit printed.
    constexpr double half_digit = 0.5e-4 + 1e-9;
    int compared = 0;
    for (const auto& row : read_table("grain/grain_heat_and_specific_volume_computed.csv")) {
        Grain g;
        g.name = row.text("material");
        g.moisture.value = 0.01 * row.number("water_g");
        g.protein.value = 0.01 * row.number("protein_g");
        g.fat.value = 0.01 * row.number("fat_g");
        g.fibre.value = 0.01 * row.number("fibre_g");
        g.ash.value = 0.01 * row.number("ash_g");
        CAPTURE(g.name);
        const double expected = row.number("specific_volume_L_per_kg");
        CHECK(std::abs(specific_volume(g, twenty).value - expected) <= half_digit);
        ++compared;
    }
    CHECK(compared >= 10);
}

TEST_CASE("specific volume: against the pore-free densities of Chang 1988", "[mash][published]") {
    // Cereal Chem. 65:13-15: 1.45 maize, 1.47 wheat, 1.46 sorghum, g/cm3. The rule is good for 6 %.
    for (const auto& row : read_table("grain/mash_physical.csv")) {
        if (row.text("property") != "true density (pore-free)") continue;
        const double chang = 1.0 / row.number("value");
        const measured rule = specific_volume(grain(row.text("material")), twenty);
        CAPTURE(row.text("material"), chang, rule.value);
        CHECK(std::abs(rule.value - chang) <= 0.06 * chang);
        CHECK(std::abs(rule.value - chang) <= 2.0 * rule.standard_uncertainty);
    }
    // Milled cereal should come near 0.68 to 0.72 L/kg.
    for (const char* name : {"wheat", "maize", "rye", "barley", "flaked rice", "barley malt"}) {
        CAPTURE(name);
        CHECK(specific_volume(grain(name), twenty).value >= 0.67);
        CHECK(specific_volume(grain(name), twenty).value <= 0.72);
    }
}

TEST_CASE("water balance: every kilogram of water", "[mash][identity]") {
    const Bill bill = oats_and_rye();
    const Potential p = potential(bill, 80.0 * kilogram, usual);
    const WaterBalance b = water_balance(bill, p);
    CHECK(std::abs((b.added_kg + b.grain_moisture_kg - b.hydrolysis_kg - b.absorbed_kg - b.free_kg).value()) <= 1e-12 * 80.0);
    CHECK((b.added_kg + b.grain_moisture_kg - b.hydrolysis_kg - b.absorbed_kg - b.free_kg).standard_uncertainty() <= 1e-12);
    CHECK(b.free_share.value() > 0.0);
    CHECK(b.free_share.value() < 1.0);
    // The finished wash of the balance has just that water.
    const auto wash = mash_balance::stage<Uncertain>(p.masses, 80.0, p.conversion, 1.0, p.fermentation_efficiency, 0.7, 0.2);
    CHECK(std::abs((wash.water - b.free_kg - b.absorbed_kg).value()) <= 1e-12 * 80.0);
    // 0.1111 kg per kg of starch.
    const double bound = p.masses.starch.value() * 0.88 * 0.11111;
    CHECK(std::abs(p.expected.hydrolysis_water_kg.value() - bound) <= 1e-4 * bound);
}

TEST_CASE("water balance: spent grain keeps what the trade prints", "[mash][published]") {
    // The Oxford Companion to Beer: 100 to 130 kg wet grain of 75 to 80 % water per 100 kg of grist.
    const Bill bill = oats_and_rye();
    const WaterBalance b = water_balance(bill, potential(bill, 80.0 * kilogram, usual));
    const double per_kg = b.absorbed_kg.value() / 20.0;
    CHECK(std::abs(per_kg - 0.5 * (1.00 * 0.75 + 1.30 * 0.80)) <= 1e-12);
    CHECK(std::abs(b.absorbed_kg.standard_uncertainty() / 20.0 - 0.5 * (1.30 * 0.80 - 1.00 * 0.75) / std::sqrt(3.0)) <= 1e-12);
}

TEST_CASE("water balance: mash volume and vessel", "[mash]") {
    const Bill bill = oats_and_rye();
    const Potential p = potential(bill, 80.0 * kilogram, usual);
    MashHandling handling;
    CHECK(handling.head_space_share == 0.20);
    const WaterBalance b = water_balance(bill, p, handling);
    const double displaced = 12.0 * specific_volume(grain("hulless oats"), twenty).value + 8.0 * specific_volume(grain("rye"), twenty).value;
    CHECK(std::abs(b.displacement_l.value() - displaced) <= 1e-12 * displaced);
    CHECK(std::abs(b.mash_volume_l.value() - displaced - 80.0 / 0.9982072) <= 1e-4);
    CHECK(std::abs(0.8 * b.vessel_volume_l.value() - b.mash_volume_l.value()) <= 1e-12 * b.mash_volume_l.value());
    handling.head_space_share = 0.0;
    CHECK(water_balance(bill, p, handling).vessel_volume_l.value() == b.mash_volume_l.value());
}

TEST_CASE("water balance: errors", "[mash][errors]") {
    const Bill bill = oats_and_rye();
    const Potential p = potential(bill, 80.0 * kilogram, usual);
    MashHandling wrong;
    wrong.absorption.value = -1.0;
    CHECK_THROWS_AS(water_balance(bill, p, wrong), RangeError);
    wrong.absorption.value = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(water_balance(bill, p, wrong), InputError);
    wrong = MashHandling{};
    wrong.head_space_share = 1.0;
    CHECK_THROWS_AS(water_balance(bill, p, wrong), RangeError);
    wrong.head_space_share = 20.0;
    CHECK_THROWS_AS(water_balance(bill, p, wrong), RangeError);
    CHECK_THROWS_AS(water_balance(Bill{}, p), InputError);
    Bill other;
    other.add(grain("rye"), 3.0 * kilogram);
    CHECK_THROWS_AS(water_balance(other, p), InputError);
    CHECK_THROWS_AS(water_balance(bill, potential(bill, 15.0 * kilogram, usual)), RangeError);  // the grain keeps it all
    CHECK_THROWS_AS(specific_volume(grain("rye"), celsius<>::from_value(-1.0)), RangeError);
}
