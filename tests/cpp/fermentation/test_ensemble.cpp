#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstddef>
#include <ferment/fermentation/check.hpp>
#include <ferment/fermentation/forecast.hpp>
#include <random>
#include <stdexcept>
#include <vector>

#include "batches.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

EnsembleOptions on(const unsigned threads) {
    EnsembleOptions options;
    options.threads = threads;
    return options;
}

bool identical(const Forecast& a, const Forecast& b) {
    return a.time_h == b.time_h && a.gravity == b.gravity && a.abv == b.abv && a.temperature == b.temperature && a.conversion == b.conversion &&
           a.co2_lost == b.co2_lost && a.co2_rate == b.co2_rate && a.iodine == b.iodine && a.done_h == b.done_h && a.members == b.members;
}

const Conditions swinging{18.0, Ambient::day_night(17.0, 4.0, 9.0), {Vessel::wood, 50.0, 7.0}};

}  // namespace

TEST_CASE("ensemble: the same bits on any number of threads", "[fermentation][ensemble]") {
    const Fermentation batch = trade_batch(swinging);
    const std::vector<double> hours{0.0, 24.0, 24.0, 200.0};
    for (const std::size_t members : {std::size_t{500}, most_exact_members + 200}) {
        CAPTURE(members);
        const Forecast one = forecast(batch, hours, Belief{}, members, 3, on(1));
        CHECK(identical(one, forecast(batch, hours, Belief{}, members, 3, on(2))));
        CHECK(identical(one, forecast(batch, hours, Belief{}, members, 3, on(5))));
        CHECK(one.gravity[1] == one.gravity[2]);
    }
    const std::vector<Reading> readings{{48.0, measured{1.010, 0.002}, {}, {}, {}}};
    const Forecast read = forecast_with_readings(batch, hours, readings, 500, 3, on(1));
    CHECK(identical(read, forecast_with_readings(batch, hours, readings, 500, 3, on(5))));
}

TEST_CASE("ensemble: each member is its own course, whatever the surroundings", "[fermentation][ensemble]") {
    // Against a course with a hundredth of the ensemble's tolerance of 1e-6. Errors add up over a fortnight; temperature has the greatest where the sun
    // rises and sets, which are kinks: 0.0025 K and 0.007 L/h were found.
    constexpr double tolerance = 5e-5, kelvin = 5e-3, gas = 1e-2;
    const std::vector<double> hours{0.0, 12.0, 96.0, 336.0};
    const std::vector<Conditions> all{steady(20.0),
                                      swinging,
                                      {25.0, Ambient::logged({0.0, 20.0, 90.0}, {20.0, 28.0, 15.0}), {}},
                                      {20.0, Ambient::constant(20.0), {Vessel::bare, 100.0, 12.0}},
                                      {22.0, Ambient::day_night(20.0, 6.0, 3.0), {}}};
    for (std::size_t n = 0; n < all.size(); ++n) {
        const Fermentation batch = trade_batch(all[n]);
        Belief narrow;
        narrow.root *= 1e-9;  // all members the same, so that the quantiles are theirs
        for (std::size_t i = 0; i < 3; ++i) {
            const kinetic_values<double> z = Belief{}.draw(5, i);
            std::copy(z.begin(), z.end(), narrow.mean.begin());
            const Course one = simulate(batch, hours, z);
            const Forecast f = forecast(batch, hours, narrow, 2);
            for (std::size_t k = 0; k < hours.size(); ++k) {
                CAPTURE(n, i, k, f.temperature[k][2] - one.at[k].temperature_c, f.co2_rate[k][2] - one.at[k].co2_l_per_h);
                CHECK(std::abs(f.gravity[k][2] - one.at[k].gravity) <= tolerance);
                CHECK(std::abs(f.abv[k][2] - one.at[k].abv) <= tolerance);
                CHECK(std::abs(f.conversion[k][2] - one.at[k].conversion) <= tolerance);
                CHECK(std::abs(f.temperature[k][2] - one.at[k].temperature_c) <= kelvin);
                CHECK(std::abs(f.co2_lost[k][2] - one.at[k].co2_lost_kg) <= tolerance * 10.0);
                CHECK(std::abs(f.co2_rate[k][2] - one.at[k].co2_l_per_h) <= gas);
                CHECK(std::abs(f.iodine[k] - iodine_test::chance_positive(one.at[k].open_starch)) <= tolerance * 10.0);
            }
            if (!std::isnan(one.done_h)) CHECK(std::abs(f.done()[2] - one.done_h) <= 0.1);
        }
    }
}

TEST_CASE("ensemble: counted quantiles against those of every member", "[fermentation][ensemble]") {
    const Fermentation batch = trade_batch(steady(22.0));
    const std::vector<double> hours{0.0, 48.0, 300.0};
    constexpr std::size_t members = 6000;
    const Forecast counted = forecast(batch, hours, Belief{}, members, 2);
    // The same members, all kept; and the bracket of the first 1024, whose 2048th part is the error that is stated.
    const auto course_at = [&](const std::size_t i) { return fermentation_course<double>::of(batch, Belief{}.draw(2, i)); };
    const detail::LaneBatch lanes = detail::LaneBatch::of(batch, detail::ensemble_tolerance(batch));
    detail::ExactFigures all(hours.size(), members);
    detail::follow_members(lanes, hours, 0, members, course_at, {}, [&] { return detail::ExactFigures::Take{all}; });
    const std::vector<const Band*> bands{&counted.gravity, &counted.abv, &counted.temperature, &counted.conversion, &counted.co2_lost, &counted.co2_rate};
    double farthest = 0.0;  // in bins
    for (std::size_t i = 0; i < hours.size(); ++i) {
        for (std::size_t q = 0; q < bands.size(); ++q) {
            const std::span<double> figures = all.figures(i, q);
            const Spread exact = detail::exact_spread(figures);
            const num::interval bracket = Counts::bracket_of(figures.first(1024));
            const double bin = (bracket.upper - bracket.lower) / 2048.0;
            for (std::size_t s = 0; s < exact.size(); ++s) {
                CAPTURE(i, q, s, exact[s], (*bands[q])[i][s], bin);
                CHECK(std::abs((*bands[q])[i][s] - exact[s]) <= bin * (1.0 + 1e-9) + 1e-15);
                if (bin > 0.0) farthest = std::max(farthest, std::abs((*bands[q])[i][s] - exact[s]) / bin);
            }
        }
        double chance = 0.0;
        for (const double x : all.figures(i, 6)) chance += x;
        CHECK(std::abs(counted.iodine[i] - chance / members) <= 1e-10);
    }
    CHECK(farthest > 0.0);  // they were counted
    CHECK(counted.members == members);
    // The time of "done": the quantiles, and the chance by any time.
    std::vector<double> done = all.done();
    std::sort(done.begin(), done.end());
    CHECK(std::is_sorted(counted.done_h.begin(), counted.done_h.end()));
    for (std::size_t s = 0; s < band_shares.size(); ++s) {
        const double exact = quantile_of_sorted(done, band_shares[s]);
        CAPTURE(s, exact, counted.done()[s]);
        CHECK((counted.done()[s] == exact || std::abs(counted.done()[s] - exact) <= 300.0 / 65536.0 + 1e-9));
    }
    for (const double hour : {50.0, 100.0, 200.0, 300.0}) {
        const auto by = std::upper_bound(done.begin(), done.end(), hour) - done.begin();
        CHECK(std::abs(counted.done_by(hour) - static_cast<double>(by) / members) <= 1e-3);
    }
}

TEST_CASE("ensemble: exact quantiles of any values", "[fermentation][ensemble]") {
    std::mt19937_64 engine(4);
    std::normal_distribution<double> normal;
    for (const std::size_t n : {2U, 3U, 7U, 100U, 401U}) {
        for (int kind = 0; kind < 4; ++kind) {
            std::vector<double> values;
            for (std::size_t i = 0; i < n; ++i) {
                const double x = normal(engine);
                values.push_back(kind == 0 ? x : kind == 1 ? std::exp(20.0 * x) : kind == 2 ? std::floor(x) : (x > 0.5 ? infinite : x));
            }
            std::vector<double> sorted = values;
            std::sort(sorted.begin(), sorted.end());
            const Spread found = spread_of(values);
            for (std::size_t s = 0; s < found.size(); ++s) {
                CAPTURE(n, kind, s);
                CHECK(found[s] == quantile_of_sorted(sorted, band_shares[s]));
            }
        }
    }
    for (const double x : spread_of({1.0, nan_value, 2.0})) CHECK(std::isnan(x));
}

TEST_CASE("ensemble: counts", "[fermentation][ensemble]") {
    Counts counts({0.0, 10.0}, 100);
    CHECK(std::isnan(counts.quantile(0.5)));
    std::vector<double> values;
    for (int i = 0; i <= 1000; ++i) values.push_back(((i * 7919) % 1001) * 0.01);
    counts.add(values);
    CHECK(counts.size() == 1001);
    CHECK(std::abs(counts.resolution() - 0.1) <= 1e-15);
    for (const double q : {0.0, 0.05, 0.31, 0.5, 0.95, 1.0}) {
        CAPTURE(q, counts.quantile(q));
        CHECK(std::abs(counts.quantile(q) - 10.0 * q) <= counts.resolution());
    }
    // What lies beyond the bracket is counted there, and never beyond what came.
    counts.add(std::vector<double>{-5.0, 20.0, infinite});
    CHECK(counts.quantile(0.0) >= -5.0);
    CHECK(counts.quantile(0.0) <= 0.0);
    CHECK(counts.quantile(1.0) == infinite);
    CHECK(std::abs(counts.quantile(0.5) - 5.0) <= counts.resolution());
    counts.add(std::vector<double>{nan_value});
    CHECK(std::isnan(counts.quantile(0.5)));
    // All the same: no width at all.
    Counts one({3.0, 3.0}, 100);
    one.add(std::vector<double>(50, 3.0));
    CHECK(one.spread() == Spread{3.0, 3.0, 3.0, 3.0, 3.0});
}

TEST_CASE("ensemble: the first member that fails is told, and what looks in between can stop it", "[fermentation][ensemble]") {
    const Fermentation batch = trade_batch(steady(20.0));
    const std::vector<double> hours{100.0};
    const detail::LaneBatch lanes = detail::LaneBatch::of(batch, detail::ensemble_tolerance(batch));
    const auto failing_at = [&](const std::size_t i) {
        kinetic_values<double> z = Belief{}.draw(1, i);
        if (i == 150) z[kinetic::uptake_rate] = nan_value;
        if (i >= 170) throw InputError("member " + std::to_string(i));
        return fermentation_course<double>::of(batch, z);
    };
    for (const unsigned threads : {1U, 2U, 5U}) {
        detail::ExactFigures all(1, 400);
        const std::string told = message_of<SolveError>(
            [&] { detail::follow_members(lanes, hours, 0, 400, failing_at, on(threads), [&] { return detail::ExactFigures::Take{all}; }); });
        CHECK(holds(told, "could not be followed past 0 h"));
    }
    EnsembleOptions stopping = on(2);
    std::atomic<int> calls{0};
    stopping.between = [&] {
        ++calls;
        throw std::runtime_error("enough");
    };
    CHECK_THROWS_AS(forecast(batch, {8760.0}, Belief{}, 1000000, 1, stopping), std::runtime_error);
    CHECK(calls == 1);
}
