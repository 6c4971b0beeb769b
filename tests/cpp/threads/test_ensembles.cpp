// What starts threads of its own: the same numbers on any number of them, in several callers at once. Run under the thread sanitizer as well.

#include <array>
#include <atomic>
#include <cstddef>
#include <ferment/batch/plans.hpp>
#include <ferment/fermentation/check.hpp>
#include <ferment/mash/grain_table.hpp>
#include <new>
#include <vector>

#include "threads/at_once.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr std::array<unsigned, 4> thread_counts{1, 2, 3, 8};

Fermentation batch_of(const double mash_c = 18.0) {
    Bill bill;
    bill.add(grain("flaked oats"), 20.0 * kilogram).add(grain("barley malt"), 4.0 * kilogram);
    const Conditions conditions{mash_c, Ambient::day_night(16.0, 6.0, 15.0), {}};
    return Fermentation::of(bill, potential(bill, 90.0 * kilogram, no_cook::assumptions()), {0.05, 1.0, 1.0}, conditions);
}

std::vector<Reading> readings() {
    Reading first;
    first.time_h = 24.0;
    first.gravity = measured{1.008, 1e-3};
    Reading second;
    second.time_h = 48.0;
    second.gravity = measured{1.004, 1e-3};
    second.iodine = true;
    return {first, second};
}

EnsembleOptions on(const unsigned threads) {
    EnsembleOptions options;
    options.threads = threads;
    return options;
}

Digest digest(const Forecast& f) {
    Digest d;
    d.add(f.time_h).add(f.iodine).add(f.done_h);
    for (const Band* band : {&f.gravity, &f.abv, &f.temperature, &f.conversion, &f.co2_lost, &f.co2_rate}) {
        for (const Spread& row : *band) {
            for (const double x : row) d.add(x);
        }
    }
    return d;
}

Digest digest(const Fitted& f) {
    Digest d;
    for (Eigen::Index i = 0; i < Belief::size; ++i) d.add(f.belief.mean[i]).add(f.belief.root(i, i));
    return d.add(f.misfit).add(f.log_evidence);
}

Digest digest(const Check& c) {
    Digest d;
    for (const Spread* spread : {&c.conversion, &c.abv, &c.gravity, &c.days_to_finish}) {
        for (const double x : *spread) d.add(x);
    }
    for (const double p : c.probability) d.add(p);
    return d;
}

constexpr std::size_t plan_count = 12;
constexpr std::size_t impossible = 7;

PlanRequest request_at(const std::size_t i) {
    PlanRequest r;
    r.bill.add(grain("flaked oats"), 20.0 * kilogram).add(grain("wheat"), 10.0 * kilogram);
    r.water_kg = i == impossible ? -1.0 : 100.0 + 3.0 * static_cast<double>(i);
    r.stripping_still = {50.0, 0.25, 5.0, 0.05, 5.0, 20.0};
    r.stripping_still.pressure_kpa -= static_cast<double>(i % 3);
    r.curve_points = 11;
    return r;
}

Digest plans_on(const unsigned threads) {
    PlansOptions options;
    options.threads = threads;
    std::vector<double> figures(3 * plan_count);
    const auto failure = plans(
        plan_count, request_at,
        [&](const std::size_t i, const PlanRow& row) {
            figures[3 * i] = row.hearts_l;
            figures[3 * i + 1] = row.energy_kwh;
            figures[3 * i + 2] = row.bottles;
        },
        options);
    Digest d;
    return d.add(figures).add(failure ? static_cast<double>(failure->index) : -1.0);
}

}  // namespace

TEST_CASE("an ensemble is the same on any number of threads", "[threads]") {
    const Fermentation f = batch_of();
    const std::vector<double> hours{12.0, 60.0};
    constexpr std::size_t members = 300;
    const Digest alone = digest(forecast(f, hours, {}, members, usual_seed, on(1)));
    for (const unsigned threads : thread_counts) {
        CAPTURE(threads);
        CHECK(digest(forecast(f, hours, {}, members, usual_seed, on(threads))) == alone);
    }
    CHECK_FALSE(digest(forecast(f, hours, {}, members, usual_seed + 1, on(2))) == alone);
}

TEST_CASE("so is one that only counts its members", "[threads]") {
    const Fermentation f = batch_of();
    const std::vector<double> hours{0.5};
    const std::size_t members = most_exact_members + 100;
    const Digest alone = digest(forecast(f, hours, {}, members, usual_seed, on(1)));
    CHECK(digest(forecast(f, hours, {}, members, usual_seed, on(4))) == alone);
}

TEST_CASE("ensembles, fits and checks run side by side", "[threads]") {
    const Fermentation f = batch_of();
    const std::vector<Reading> read = readings();
    const std::vector<double> hours{12.0, 60.0};
    const auto work = [&](const std::size_t k) {
        switch (k % 4) {
            case 0: return digest(forecast(f, hours, {}, 130, k, on(2)));
            case 1: return digest(fit(f, read));
            case 2: return digest(check(f, read, 64, k));
            default: return digest(forecast_with_readings(f, hours, read, 130, k, on(2)));
        }
    };
    const std::vector<Digest> found = at_once(4, work);
    for (std::size_t k = 0; k < found.size(); ++k) {
        CAPTURE(k);
        CHECK(found[k] == work(k));
    }
}

TEST_CASE("plans are the same on any number of threads, and so is the failure that is told", "[threads]") {
    const Digest alone = plans_on(1);
    for (const unsigned threads : thread_counts) {
        CAPTURE(threads);
        CHECK(plans_on(threads) == alone);
    }
    const std::vector<Digest> together = at_once(2, [](std::size_t) { return plans_on(2); });
    for (const Digest& one : together) CHECK(one == alone);
}

TEST_CASE("what stops the calling thread stops all", "[threads]") {
    PlansOptions options;
    options.threads = 4;
    options.progress = [](std::size_t) { throw std::bad_alloc(); };
    std::atomic<std::size_t> taken{0};
    CHECK_THROWS_AS(plans(
                        plan_count, request_at, [&](std::size_t, const PlanRow&) { ++taken; }, options),
                    std::bad_alloc);
    CHECK(taken <= plan_count);
    EnsembleOptions watched = on(4);
    watched.between = [] { throw std::bad_alloc(); };
    CHECK_THROWS_AS(forecast(batch_of(), {2000.0}, {}, 20000, usual_seed, watched), std::bad_alloc);
}
