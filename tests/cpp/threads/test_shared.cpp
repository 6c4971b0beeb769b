// The same objects and tables in many threads: every thread gets what one alone gets, and its own errors. Run under the thread sanitizer as well.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <ferment/instrument.hpp>
#include <ferment/mash.hpp>
#include <ferment/proofing.hpp>
#include <ferment/still.hpp>
#include <ferment/strength.hpp>
#include <string>
#include <vector>

#include "threads/at_once.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

const pressure<> one_atmosphere = 101.325 * kilopascal;

/// Objects that all threads read.
struct Shared {
    Bill bill = Bill().add(grain("flaked oats"), 20.0 * kilogram).add(grain("barley malt"), 4.0 * kilogram);
    Hydrometer hydrometer{hydrometer_scale::plato, 15.0 * degree_celsius};
    Refractometer refractometer{};
    Ebulliometer ebulliometer{0.05};
    Alcoholometer alcoholometer{};
    Uncertain gravity = Uncertain::input(1.010, 5e-4, "gravity");
    StillSetup still{50.0, 0.25, 5.0, 0.05, 5.0, 20.0};
    StillLiquid wash = still_liquid(30.0 * litre, 8.0 * percent_vol, 2.0 * degree_plato);
    Stripping spirit_run =
        strip(still_liquid(30.0 * litre, 28.0 * percent_vol, 0.0 * degree_plato), one_atmosphere, StripStop::distillate_abv(5.0 * percent_vol), 21);
};

/// Numbers that are the same in every bit, and uncertainties, which depend in the last on the order in which inputs were made: the doubts of formulas are made
/// on first use.
struct Found {
    Digest numbers{};
    std::vector<double> doubts{};
};

Found everything(const Shared& s) {
    Found all;
    Digest& d = all.numbers;
    for (int i = 0; i < 5; ++i) {
        const double x = 0.1 * i;
        d.add(s.hydrometer.correct(10.0 + x, 25.0 * degree_celsius, SampleWort{}).gravity.value());
        d.add(value_in(s.refractometer.correct(12.0 + x, 25.0 * degree_celsius).brix, degree_plato));
        d.add(s.ebulliometer.strength((95.0 + x) * degree_celsius, one_atmosphere, 2.0 * degree_plato).strength.value());
        d.add(value_in(s.alcoholometer.correct((45.0 + x) * percent_vol, 25.0 * degree_celsius), percent_vol));
    }
    const Potential can = potential(s.bill, 80.0 * kilogram, Assumptions{{0.9, 0.02}, {0.9, 0.02}});
    d.add(can.expected.pure_alcohol_l.value());
    d.add(water_balance(s.bill, can).free_kg.value());

    const Uncertain pressure_kpa = Uncertain::input(101.3, 0.1, "pressure");
    const std::vector<FoundStrength> found{strength_from_boiling_point(Uncertain::input(95.0, 0.1, "boiling point"), pressure_kpa, s.gravity),
                                           strength_from_boiled_down(s.gravity, Uncertain::input(1.018, 5e-4, "gravity after"), made_up_to::volume)};
    const CombinedStrength together = combine(found);
    all.doubts = {can.expected.pure_alcohol_l.standard_uncertainty(), found[0].abv.standard_uncertainty(), together.abv.value(),
                  together.abv.standard_uncertainty()};

    const Stripping run = strip(s.wash, s.still, StripStop::distillate_abv(2.0 * percent_vol), 11);
    d.add(run.low_wines_l).add(run.low_wines_abv).add(stripping_duty(run, s.still, {}).energy_kwh);
    ColumnStop stop;
    stop.recovered_share = 0.8;
    const ColumnRun column = rectify({20.0, 0.25}, {3, 0.2}, {3.0, 0.0, 0.5}, TakeOff::at_reflux(2.0), stop, one_atmosphere, 11);
    d.add(column.distillate_abv).add(column.time_h);
    const FilledJars filled = fill_jars(s.spirit_run, 1.0 * litre);
    for (const FilledJar& jar : filled.jars) d.add(jar.abv);
    std::vector<RunPoint> points;
    for (const StrippingPoint& p : s.spirit_run.curve) points.push_back({p.pot_kg, p.pot_abw});
    const std::vector<CongenerCharge> charges{{congener("methanol"), 10.0}, {congener("isoamyl_alcohols"), 100.0}};
    const CongenerRun congeners_run = congener_run(points, charges, one_atmosphere);
    for (const CongenerCourse& course : congeners_run.courses) d.add(course.pot_g);
    const celsius<> room = 20.0 * degree_celsius;
    const SpiritMass spirit = weigh(10.0 * litre, abw_from_abv(60.0 * percent_vol), room);
    d.add(dilute(spirit, abw_from_abv(40.0 * percent_vol), room).water.value());
    return all;
}

}  // namespace

TEST_CASE("shared objects and tables give every thread what they give one", "[threads]") {
    const Shared shared;
    const std::vector<Found> found = at_once(many_threads, [&](std::size_t) { return everything(shared); });  // first: tables are made on first use
    const Found alone = everything(shared);
    REQUIRE(alone.numbers.size() > 60);
    constexpr double round_off = 1e-13;
    for (const Found& one : found) {
        CHECK(one.numbers == alone.numbers);
        for (std::size_t i = 0; i < alone.doubts.size(); ++i) {
            CAPTURE(i, one.doubts[i], alone.doubts[i]);
            CHECK(std::abs(one.doubts[i] - alone.doubts[i]) <= round_off * alone.doubts[i]);
        }
    }
}

TEST_CASE("every thread has its own errors", "[threads]") {
    const auto call = [](const std::size_t k) { spirit_density(50.0 * percent_mass, (100.0 + static_cast<double>(k)) * degree_celsius); };
    const std::vector<std::string> told = at_once(many_threads, [&](const std::size_t k) { return told_by([&] { call(k); }); });
    for (std::size_t k = 0; k < told.size(); ++k) {
        CAPTURE(told[k]);
        CHECK(told[k].find(format_number(100.0 + static_cast<double>(k))) != std::string::npos);
        CHECK(told[k] == told_by([&] { call(k); }));
    }
}

TEST_CASE("inputs made in many threads are all independent", "[threads]") {
    constexpr std::size_t each = 50;
    const auto made = at_once(many_threads, [](std::size_t) {
        std::vector<Uncertain> inputs;
        for (std::size_t i = 0; i < each; ++i) inputs.push_back(Uncertain::input(1.0, 0.1, "x"));
        return inputs;
    });
    std::vector<Uncertain> all;
    for (const std::vector<Uncertain>& inputs : made) all.insert(all.end(), inputs.begin(), inputs.end());
    bool shared = false;
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) shared = shared || covariance(all[i], all[j]) != 0.0;
    }
    CHECK_FALSE(shared);
    CHECK(std::all_of(all.begin(), all.end(), [](const Uncertain& x) { return covariance(x, x) > 0.0; }));
}
