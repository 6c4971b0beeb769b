// Many plans: each row is that of its own plan whatever the number of threads; failures are told by the smallest index; nothing is lost when something is
// thrown.

#include <algorithm>
#include <atomic>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/batch/plans.hpp>
#include <ferment/mash/grain_table.hpp>
#include <new>
#include <string>
#include <vector>

#include "catch.hpp"
#include "liquid/checks.hpp"

using namespace ferment;
using ferment_test::error_text;

namespace {

constexpr double PlanRow::*row_members[] = {
    &PlanRow::wash_l,        &PlanRow::wash_abv,        &PlanRow::stripping_charges,
    &PlanRow::low_wines_l,   &PlanRow::low_wines_abv,   &PlanRow::heads_l,
    &PlanRow::hearts_l,      &PlanRow::hearts_abv,      &PlanRow::tails_l,
    &PlanRow::fore_shots_l,  &PlanRow::bottles,         &PlanRow::charges,
    &PlanRow::energy_kwh,    &PlanRow::cooling_water_l, &PlanRow::total_h,
    &PlanRow::bottled_l,     &PlanRow::recovered_share, &PlanRow::hearts_pure_alcohol_l,
    &PlanRow::balance_error, &PlanRow::spirit_charges,
};

bool same_bits(const PlanRow& a, const PlanRow& b) {
    return std::all_of(std::begin(row_members), std::end(row_members),
                       [&](double PlanRow::*const x) { return std::bit_cast<std::uint64_t>(a.*x) == std::bit_cast<std::uint64_t>(b.*x); });
}

PlanRequest usual() {
    PlanRequest r;
    r.bill.add(grain("flaked oats"), 20.0 * kilogram).add(grain("wheat"), 10.0 * kilogram);
    r.water_kg = 110.0;
    r.stripping_still = {50.0, 0.25, 5.0, 0.05, 5.0, 20.0};
    r.curve_points = 21;
    return r;
}

/// Water and pressure change from one to the next, every third has a column.
std::vector<PlanRequest> requests() {
    std::vector<PlanRequest> all;
    for (int i = 0; i < 12; ++i) {
        PlanRequest r = usual();
        r.water_kg += 3.0 * i;
        r.stripping_still.pressure_kpa = 101.325 - 2.0 * (i % 4);
        if (i % 3 == 0) {
            r.spirit.plates = 2;
            r.spirit.take_off = TakeOff::at_reflux(1.0);
        }
        all.push_back(r);
    }
    return all;
}

PlansOptions on_threads(const unsigned threads, const no_plan on_error = no_plan::is_nan) {
    PlansOptions options;
    options.threads = threads;
    options.on_error = on_error;
    return options;
}

}  // namespace

TEST_CASE("rows of many plans are those of one by one") {
    const std::vector<PlanRequest> all = requests();
    for (const unsigned threads : {1U, 2U, 5U, 0U}) {
        CAPTURE(threads);
        const PlanRows many = plans(all, on_threads(threads));
        CHECK(!many.first_failure);
        REQUIRE(many.rows.size() == all.size());
        for (std::size_t i = 0; i < all.size(); ++i) {
            CAPTURE(i);
            CHECK(same_bits(many.rows[i], PlanRow(plan(all[i]))));
            CHECK(many.rows[i].balance_error <= 1e-10);
        }
    }
    CHECK(plans(std::vector<PlanRequest>{}).rows.empty());
}

TEST_CASE("a table shared by plans changes nothing") {
    PlanTables tables;
    for (const PlanRequest& r : requests()) CHECK(same_bits(PlanRow(plan(r, tables)), PlanRow(plan(r))));
}

TEST_CASE("a row is what the plan says") {
    const Plan p = plan(usual());
    const PlanRow row(p);
    CHECK(row.wash_l == p.strained.volume_l());
    CHECK(row.hearts_abv == p.fraction(cut_label::hearts).content.abv());
    CHECK(row.bottles == static_cast<double>(p.bottling.full));
    CHECK(row.charges == row.stripping_charges + row.spirit_charges);
    CHECK(row.total_h == p.totals.total_h);
    const double lost = p.in_grain.pure_alcohol_l() + p.low_wines.pure_alcohol_l() - p.fraction(cut_label::hearts).content.pure_alcohol_l() +
                        static_cast<double>(p.stripping_charges.count) * p.stripping.pot.pure_alcohol_l();
    constexpr double closes = 1e-9;
    CHECK(std::abs(row.recovered_share - (1.0 - lost / p.end_point.pure_alcohol_l.value())) <= closes);
    const PlanRow none;
    for (double PlanRow::*const x : row_members) CHECK(std::isnan(none.*x));
}

TEST_CASE("the failure with the smallest index is told") {
    std::vector<PlanRequest> all = requests();
    all[4].bottling.target_abv = 0.95;  // no hearts are that strong
    all[7].stripping_still.boiler_l = -1.0;
    all[11].water_kg = -1.0;
    for (const unsigned threads : {1U, 3U}) {
        for (const no_plan way : {no_plan::is_nan, no_plan::ends_all}) {
            const PlanRows many = plans(all, on_threads(threads, way));
            REQUIRE(many.first_failure);
            CHECK(many.first_failure->index == 4);
            const std::string text = error_text([&] { std::rethrow_exception(many.first_failure->error); });
            CHECK(text == error_text([&] { plan(all[4]); }));
            CHECK(std::isnan(many.rows[4].bottles));
            for (std::size_t i = 0; i < 4; ++i) CHECK(same_bits(many.rows[i], PlanRow(plan(all[i]))));
        }
        const PlanRows many = plans(all, on_threads(threads));
        for (std::size_t i = 0; i < all.size(); ++i) CHECK(std::isnan(many.rows[i].bottles) == (i == 4 || i == 7 || i == 11));
    }
}

TEST_CASE("an error of the request counts as one of its plan") {
    const auto request_at = [](const std::size_t i) {
        if (i == 2) throw InputError("no such bill");
        return usual();
    };
    std::atomic<int> taken{0};
    const auto failure = plans(
        5, request_at, [&](std::size_t, const PlanRow&) { ++taken; }, on_threads(2));
    REQUIRE(failure);
    CHECK(failure->index == 2);
    CHECK(taken == 5);
}

TEST_CASE("progress is told in the calling thread and may end all") {
    const std::thread::id here = std::this_thread::get_id();
    std::vector<std::size_t> told;
    PlansOptions options = on_threads(2);
    options.progress = [&](const std::size_t done) {
        CHECK(std::this_thread::get_id() == here);
        told.push_back(done);
    };
    const std::vector<PlanRequest> all = requests();
    plans(all, options);
    REQUIRE(!told.empty());
    CHECK(told.back() == all.size());
    CHECK(std::is_sorted(told.begin(), told.end()));

    struct enough {};
    options.progress = [](std::size_t) { throw enough(); };
    CHECK_THROWS_AS(plans(all, options), enough);
    const auto take = [](const std::size_t i, const PlanRow&) {
        if (i == 3) throw std::bad_alloc();
    };
    CHECK_THROWS_AS(plans(
                        all.size(), [&](const std::size_t i) { return all[i]; }, take, on_threads(2)),
                    std::bad_alloc);
}
