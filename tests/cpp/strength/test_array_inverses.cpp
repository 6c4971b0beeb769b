// Inverses of whole arrays: the same roots as one by one, to round-off, and NaN for the same elements.

#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"  // g++ 12 does not see that the blocks of a search are filled before they are read
#endif

#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/array_solve.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/strength/gravity.hpp>
#include <vector>

#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double agree = 1e-12;  // of a fraction or a gravity: searches of different kinds stop within round-off of the root

using Column = std::vector<double>;

template <class Problem>
Column solved(const Column& first, const Column& second = {}) {
    Column out(first.size(), -1.0);
    std::array<const double*, Problem::inputs> in{};
    in[0] = first.data();
    if constexpr (Problem::inputs > 1) in[1] = second.data();
    num::solve_array<Problem>(in.data(), out.data(), static_cast<std::ptrdiff_t>(first.size()));
    return out;
}

/// The largest difference of two columns whose NaN must stand in the same places.
Worst difference(const Column& found, const Column& expected) {
    Worst worst;
    for (std::size_t i = 0; i < found.size(); ++i) {
        const bool none = std::isnan(found[i]) && std::isnan(expected[i]);
        worst.add(none ? 0.0 : found[i] - expected[i], i);
    }
    return worst;
}

std::size_t numbers(const Column& x) {
    std::size_t n = 0;
    for (const double y : x) n += std::isnan(y) ? 0 : 1;
    return n;
}

}  // namespace

TEST_CASE("arrays: extract from density is what made the density", "[strength][arrays][identity]") {
    Column w, rho, t;
    for (double celsius = 0.0; celsius <= 80.0; celsius += 8.0) {
        for (int percent = 0; percent <= 70; ++percent) {
            w.push_back(percent / 100.0);
            t.push_back(celsius);
            rho.push_back(icumsa_sps4::density(w.back(), celsius));
        }
    }
    CHECK(w.size() > 5 * num::search_block);  // several blocks, and a last one that is not full
    CHECK(w.size() % num::search_block != 0);
    const Worst worst = difference(solved<icumsa_sps4::by_density<>>(rho, t), w);
    CAPTURE(worst.line);
    CHECK(worst.value <= agree);

    // Below zero, for apparent extracts.
    Column below_zero, lighter;
    for (int percent = -6; percent <= 0; ++percent) {
        below_zero.push_back(percent / 100.0);
        lighter.push_back(icumsa_sps4::water(20.0) + below_zero.back() * icumsa_sps4::density_per_extract(below_zero.back(), 20.0));
    }
    const Column twenty(below_zero.size(), 20.0);
    CHECK(difference(solved<icumsa_sps4::by_density<apparent_extract_scale::least_percent>>(lighter, twenty), below_zero).value <= agree);
    CHECK(numbers(solved<icumsa_sps4::by_density<>>(lighter, twenty)) == 1);  // only water is on the other scale
}

TEST_CASE("arrays: strength from density and by volume is what made them", "[strength][arrays][identity]") {
    Column p, rho, t;
    for (double celsius = -20.0; celsius <= 40.0; celsius += 7.5) {
        for (int permille = 0; permille <= 1000; permille += 4) {
            const double density = oiml_r22::density(permille / 1000.0, celsius);
            if (std::isnan(density)) continue;  // frozen
            p.push_back(permille / 1000.0);
            t.push_back(celsius);
            rho.push_back(density);
        }
    }
    CHECK(p.size() > 1000);
    // Cold and weak, density hardly falls with strength: 1e-12 kg/m3 of round-off is worth more there.
    const Worst by_density = difference(solved<oiml_r22::by_density>(rho, t), p);
    CAPTURE(by_density.line, p[by_density.line], t[by_density.line]);
    CHECK(by_density.value <= round_trip);

    Column q, expected;
    for (int permille = 0; permille <= 1000; ++permille) {
        expected.push_back(permille / 1000.0);
        q.push_back(volume_at_20c::from_abw(expected.back()));
    }
    CHECK(difference(solved<volume_at_20c::by_volume>(q), expected).value <= agree);
}

TEST_CASE("arrays: an element out of range is NaN and leaves its neighbours alone", "[strength][arrays][edges]") {
    const Column rho{1040.0, 900.0, 1040.0, not_a_number, 1040.0, 1500.0, infinity, 1040.0};
    const Column t{20.0, 20.0, 80.5, 20.0, not_a_number, 20.0, 20.0, 20.0};
    const Column w = solved<icumsa_sps4::by_density<>>(rho, t);
    const double alone = solved<icumsa_sps4::by_density<>>({1040.0}, {20.0})[0];
    CHECK(std::abs(alone - icumsa_sps4::extract_from_density(1040.0, 20.0)) <= agree);
    CHECK(w[0] == alone);
    CHECK(w[7] == alone);
    for (std::size_t i = 1; i < 7; ++i) CHECK(std::isnan(w[i]));

    const Column strengths = solved<volume_at_20c::by_volume>({below(0.0), 0.0, 1.0, above(1.0), not_a_number});
    CHECK(std::isnan(strengths[0]));
    CHECK(strengths[1] == 0.0);
    CHECK(strengths[2] == 1.0);
    CHECK(std::isnan(strengths[3]));
    CHECK(std::isnan(strengths[4]));
}

TEST_CASE("arrays: the balance of two gravities is that of one by one", "[strength][arrays][identity]") {
    Column og, fg, oe, gone;
    for (int points = 0; points <= 130; points += 10) {
        for (int left = -20; left <= 60; left += 5) {
            og.push_back(1.0 + points / 1000.0);
            fg.push_back(1.0 + left / 1000.0);
        }
    }
    og.push_back(not_a_number);
    fg.push_back(1.0);
    og.push_back(1.05);
    fg.push_back(not_a_number);
    for (std::size_t i = 0; i < og.size(); ++i) {
        const auto one = density_balance::solve(og[i], fg[i], default_yield, gravity_frame{});
        gone.push_back(one.extract_consumed);
    }
    Column extract(og.size()), consumed(og.size());
    density_balance::solve_array(og.data(), fg.data(), default_yield, gravity_frame{}, extract.data(), consumed.data(), static_cast<std::ptrdiff_t>(og.size()));
    const Worst worst = difference(consumed, gone);
    CAPTURE(worst.line, og[worst.line], fg[worst.line]);
    CHECK(worst.value <= agree);
    CHECK(numbers(consumed) > 60);
    CHECK(numbers(consumed) < og.size() - 60);  // gravities that rose, or fell below what the wort can reach
}

namespace {

/// A hydrometer's arrays against its single readings.
template <class Sample, class Arrays>
void check_readings(const Hydrometer& glass, const Column& reading, const Column& t, const Sample& sample_of, const Arrays& arrays) {
    const std::size_t n = reading.size();
    Column gravity(n), at_sample(n), ethanol(n), extract(n), one_gravity(n), one_at_sample(n), one_ethanol(n), one_extract(n);
    for (std::size_t i = 0; i < n; ++i) {
        one_gravity[i] = one_at_sample[i] = one_ethanol[i] = one_extract[i] = not_a_number;
        try {
            const CorrectedReading one = glass.correct(reading[i], t[i] * degree_celsius, sample_of(i));
            one_gravity[i] = one.gravity.value();
            one_at_sample[i] = one.at_sample.value();
            one_ethanol[i] = one.strength.value();
            one_extract[i] = one.real_extract.value();
        } catch (const RangeError&) {
        }
    }
    arrays(Hydrometer::CorrectedArrays{gravity.data(), at_sample.data(), ethanol.data(), extract.data()}, static_cast<std::ptrdiff_t>(n));
    CHECK(difference(gravity, one_gravity).value <= agree);
    CHECK(difference(ethanol, one_ethanol).value <= 10.0 * agree);
    CHECK(difference(extract, one_extract).value <= 10.0 * agree);
    CHECK(difference(at_sample, one_at_sample).value <= 1e-9);
    CHECK(numbers(gravity) > n / 4);
    CHECK(numbers(gravity) < n);
}

}  // namespace

TEST_CASE("arrays: corrected readings are those of one by one", "[strength][arrays][hydrometer]") {
    const Hydrometer gravity_glass(hydrometer_scale::specific_gravity, 15.0 * degree_celsius);
    const Hydrometer plato_glass(hydrometer_scale::plato, 20.0 * degree_celsius, conventional_glass_expansion, 0.1);
    Column t, in_gravity, in_plato, in_spirit, strength, extract;
    for (const double celsius : {-3.0, 2.0, 17.0, 26.0, 39.0, 61.0}) {
        for (int k = 0; k < 30; ++k) {
            t.push_back(celsius);
            in_gravity.push_back(0.985 + 0.004 * k);
            in_plato.push_back(-3.0 + 0.9 * k);
            in_spirit.push_back(0.78 + 0.0075 * k);
            strength.push_back(0.004 * k);
            extract.push_back(0.005 * k);
        }
    }
    SECTION("wort") {
        const auto wort = [](std::size_t) { return SampleWort{}; };
        check_readings(gravity_glass, in_gravity, t, wort,
                       [&](const auto& out, const std::ptrdiff_t n) { gravity_glass.correct(in_gravity.data(), t.data(), SampleWort{}, out, n); });
        check_readings(plato_glass, in_plato, t, wort,
                       [&](const auto& out, const std::ptrdiff_t n) { plato_glass.correct(in_plato.data(), t.data(), SampleWort{}, out, n); });
    }
    SECTION("spirit") {
        const auto spirit = [](std::size_t) { return SampleSpirit{}; };
        check_readings(gravity_glass, in_spirit, t, spirit,
                       [&](const auto& out, const std::ptrdiff_t n) { gravity_glass.correct(in_spirit.data(), t.data(), SampleSpirit{}, out, n); });
    }
    SECTION("wash of known strength") {
        const auto wash = [&](const std::size_t i) { return SampleWash{SampleWash::known::strength, strength[i]}; };
        for (const Hydrometer* glass : {&gravity_glass, &plato_glass}) {
            const Column& reading = glass == &gravity_glass ? in_gravity : in_plato;
            check_readings(*glass, reading, t, wash, [&](const auto& out, const std::ptrdiff_t n) {
                glass->correct(reading.data(), t.data(), SampleWash::known::strength, strength.data(), out, n);
            });
        }
    }
    SECTION("wash of known extract") {
        Column thin;  // lighter than the extract alone
        for (std::size_t i = 0; i < t.size(); ++i) thin.push_back(0.985 + 0.3 * extract[i]);
        const auto wash = [&](const std::size_t i) { return SampleWash{SampleWash::known::extract, extract[i]}; };
        check_readings(gravity_glass, thin, t, wash, [&](const auto& out, const std::ptrdiff_t n) {
            gravity_glass.correct(thin.data(), t.data(), SampleWash::known::extract, extract.data(), out, n);
        });
    }
}
