// Amounts so large or small that sums and ratios of them overflow or vanish are refused by name.

#include <array>
#include <cmath>
#include <ferment/batch/ledger.hpp>
#include <ferment/mash.hpp>
#include <ferment/proofing.hpp>
#include <ferment/still.hpp>
#include <ferment/strength.hpp>
#include <limits>

#include "catch.hpp"

using namespace ferment;

namespace {

const Assumptions whole{{1.0, 0.0}, {1.0, 0.0}, {0.2, 0.0}};

}  // namespace

TEST_CASE("absurd amounts of spirit, grain and water are refused", "[proofing][mash]") {
    const celsius<> t = 20.0 * degree_celsius;
    for (const double litres : {1e-12, 1e15, 1e300}) {
        CAPTURE(litres);
        CHECK_THROWS_AS(weigh(litres * litre, 40.0 * percent_mass, t), RangeError);
        CHECK_THROWS_AS(dilute_to_volume(60.0 * percent_mass, 40.0 * percent_mass, litres * litre, t), RangeError);
    }
    const SpiritMass spirit = weigh(1.0 * litre, 40.0 * percent_mass, t);
    CHECK_THROWS_AS(add_water(spirit, 1e300 * kilogram, t), RangeError);
    Bill bill;
    CHECK_THROWS_AS(bill.add(grain("wheat"), 5e-324 * kilogram), RangeError);
    bill.add(grain("wheat"), 10.0 * kilogram);
    CHECK_THROWS_AS(potential(bill, 1e300 * kilogram, whole), RangeError);
    CHECK_THROWS_AS(potential(bill, 40.0 * kilogram, {{0.9, 1e189}, {1.0, 0.0}, {0.2, 0.0}}), RangeError);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(water_balance(bill, potential(bill, 40.0 * kilogram, whole), {{0.9, nan}, 0.2}), InputError);
}

TEST_CASE("pure alcohol leaves no room for sugar", "[proofing]") {
    CHECK_THROWS_AS(apparent_strength(100.0 * percent_vol, 127.74521697842589), RangeError);
}

TEST_CASE("strengths that are no shares are not combined", "[strength]") {
    const auto found = [](const char* const route, const double value, const double doubt) {
        FoundStrength f;
        f.route = route;
        f.abv = Uncertain::input(value, doubt, route);
        return f;
    };
    CHECK_THROWS_AS(combine({found("one", 0.05, 0.001), found("two", -1.7976931348623157e308, 0.001)}), RangeError);
    CHECK_THROWS_AS(predicted_spirit_yield(80.0 * degree_plato, -1.0), RangeError);
    CHECK_THROWS_AS(predicted_spirit_yield(80.0 * degree_plato, std::numeric_limits<double>::infinity()), RangeError);
}

TEST_CASE("absurd figures of a run are refused", "[still]") {
    const std::array<RunPoint, 2> points{{{50.0, 0.3}, {40.0, 0.2}}};
    const std::array<CongenerCharge, 1> charges{{{congener("methanol"), 1.0}}};
    CHECK_THROWS_AS(congener_run(points, charges, 101.325 * kilopascal, 1e300), RangeError);
    std::array<Jar, 1> jars{};
    jars[0].volume_l = 0.5;
    jars[0].abv = 0.6;
    jars[0].abv_uncertainty = 1e170;
    CHECK_THROWS_AS(work_out_cuts(jars), RangeError);
    ColumnStop stop;
    stop.distillate_abv = 0.6;
    CHECK_THROWS_AS(rectify({100.0, 0.4}, {8, 2.0}, {5.0, 0.1, 0.5}, TakeOff::at_reflux(8.5e296), stop, 101.325 * kilopascal), RangeError);
    CHECK_THROWS_AS(column_capacity(6.4e157, stichlmair_1989::berl_saddle_25mm, 50.0 * percent_mass, 101.325 * kilopascal, 0.5), RangeError);
}

TEST_CASE("the last trace of rise in a coolant takes nothing back", "[still][column]") {
    const RefluxSetting s = reflux_of_partial_condenser({95.0, 4.9406564584124654e-324, 3.5342009873647175e-75, 87.0}, 10.0);
    CHECK(s.reflux == 0.0);
    CHECK(std::isfinite(s.take_off_per_coolant));
}

TEST_CASE("stages that lead nowhere have no number", "[still][column]") {
    const wash_equilibrium equilibrium(101325.0);
    for (const double pot : {-1.0, 0.0, std::numeric_limits<double>::quiet_NaN()}) CHECK(std::isnan(total_reflux_stages(equilibrium, pot, 0.7)));
    CHECK(std::isnan(total_reflux_stages(equilibrium, 0.2, 1.0)));
    CHECK(total_reflux_stages(equilibrium, 0.2, 0.7) > 0.0);
    CHECK(std::isnan(equilibrium.vapour(std::numeric_limits<double>::quiet_NaN()).value));
    (void)equilibrium.vapour(1e300);  // no cell of the table is so far out; unchecked, but no crash
}

TEST_CASE("pure alcohol with a trace of extract is refused or weighed", "[still][charge]") {
    CHECK_THROWS_AS(still_liquid(10.0 * litre, 100.0 * percent_vol, extract<>::from_value(1.0817366427219737e-16)), RangeError);
}

TEST_CASE("an absurd entry of the ledger is refused", "[batch]") {
    Ledger book(LedgerStart{Uncertain(12.0), 40.0, Uncertain(35.0)});
    CHECK_THROWS_AS(book.take_out(batch_place::wash, Uncertain(8e151)), RangeError);
}
