#pragma once
// Many courses at once: bands of what can be measured and the day of "done", from the spread of every parameter.

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/seed_seq.hpp>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/core/error.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/simulate.hpp>
#include <limits>
#include <vector>

namespace ferment {

/// What is believed of the parameters, in spreads from their medians: a normal distribution. As made, the priors of kinetic_table.
struct Belief {
    static constexpr int size = static_cast<int>(kinetic::count);
    using Vector = Eigen::Matrix<double, size, 1>;
    using Matrix = Eigen::Matrix<double, size, size>;
    Vector mean = Vector::Zero();
    Matrix root = Matrix::Identity();  ///< of the covariance: root root^T

    /// One draw. The same seed and member give the same draw on every machine, whatever was drawn before.
    [[nodiscard]] kinetic_values<double> draw(const std::uint64_t seed, const std::size_t member) const {
        constexpr unsigned half = 32;
        const std::array<std::uint32_t, 4> words{static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> half), static_cast<std::uint32_t>(member),
                                                 static_cast<std::uint32_t>(std::uint64_t{member} >> half)};
        boost::random::seed_seq sequence(words.begin(), words.end());
        boost::random::mt19937_64 engine(sequence);
        boost::random::normal_distribution<double> normal;
        Vector standard;
        for (double& x : standard) {
            x = normal(engine);
        }
        const Vector z = mean + root * standard;
        kinetic_values<double> values{};
        std::copy(z.begin(), z.end(), values.begin());
        return values;
    }
    [[nodiscard]] kinetic_values<double> middle() const {
        kinetic_values<double> values{};
        std::copy(mean.begin(), mean.end(), values.begin());
        return values;
    }
};

/// The quantile q of sorted values, straight between neighbours; NaN for none.
inline double quantile_of_sorted(const std::vector<double>& sorted, const double q) {
    if (sorted.empty()) return std::numeric_limits<double>::quiet_NaN();
    const double place = q * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    const double share = place - static_cast<double>(below);
    // Equal neighbours need no arithmetic, which would turn two infinities into NaN.
    return sorted[below] == sorted[above] || share == 0.0 ? sorted[below] : sorted[below] + share * (sorted[above] - sorted[below]);
}

/// The shares of a band: 90 % lie between the first and the last, 50 % between the second and the fourth.
inline constexpr std::array<double, 5> band_shares{0.05, 0.25, 0.5, 0.75, 0.95};

/// Quantiles at band_shares.
using Spread = std::array<double, band_shares.size()>;

inline Spread spread_of(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    Spread s{};
    for (std::size_t i = 0; i < s.size(); ++i) {
        s[i] = quantile_of_sorted(values, band_shares[i]);
    }
    return s;
}

/// A quantity along the course: its quantiles at every time.
using Band = std::vector<Spread>;

/// A forecast.
struct Forecast {
    std::vector<double> time_h;
    Band gravity;      ///< SG 20/20
    Band abv;          ///< volume fraction
    Band temperature;  ///< degC
    Band conversion;   ///< share of the starch
    Band co2_lost;     ///< kg
    Band co2_rate;     ///< L/h of gas
    /// Chance that the iodine test shows starch, mean over the members.
    std::vector<double> iodine;
    std::vector<double> done_h;  ///< of every member, sorted; infinite where it is not done by the last time
    std::size_t members = 0;

    /// Share of the members that are done by a time within the forecast.
    [[nodiscard]] double done_by(const double hour) const {
        if (std::isnan(hour)) return hour;
        const auto end = std::upper_bound(done_h.begin(), done_h.end(), hour);
        return static_cast<double>(end - done_h.begin()) / static_cast<double>(done_h.size());
    }
    /// Quantiles of the time of "done", h; infinite where that many members are not done by the last time.
    [[nodiscard]] Spread done() const {
        Spread s{};
        for (std::size_t i = 0; i < s.size(); ++i) {
            s[i] = quantile_of_sorted(done_h, band_shares[i]);
        }
        return s;
    }
};

inline constexpr std::size_t usual_members = 400;
inline constexpr std::uint64_t usual_seed = 1;

namespace detail {

inline constexpr std::size_t most_members = 1'000'000;

inline void require_members(const std::size_t members) {
    require_inside("members", static_cast<double>(members), "", {2.0, static_cast<double>(most_members)}, "of an ensemble");
}

/// Collects courses and turns them into bands.
class Gathering {
public:
    explicit Gathering(std::vector<double> hours) : hours_(std::move(hours)), values_(hours_.size() * quantities) {}

    void add(const Course& course) {
        for (std::size_t i = 0; i < hours_.size(); ++i) {
            const WashState& s = course.at[i];
            const std::array<double, quantities> row{
                s.gravity, s.abv, s.temperature_c, s.conversion, s.co2_lost_kg, s.co2_l_per_h, iodine_test::chance_positive(s.open_starch)};
            for (std::size_t q = 0; q < quantities; ++q) {
                values_[i * quantities + q].push_back(row[q]);
            }
        }
        done_.push_back(std::isnan(course.done_h) ? std::numeric_limits<double>::infinity() : course.done_h);
    }

    [[nodiscard]] Forecast forecast() const {
        Forecast f;
        f.time_h = hours_;
        f.members = done_.size();
        const std::array<Band*, quantities - 1> bands{&f.gravity, &f.abv, &f.temperature, &f.conversion, &f.co2_lost, &f.co2_rate};
        for (std::size_t i = 0; i < hours_.size(); ++i) {
            for (std::size_t q = 0; q < bands.size(); ++q) {
                bands[q]->push_back(spread_of(values_[i * quantities + q]));
            }
            double sum = 0.0;
            for (const double chance : values_[i * quantities + bands.size()]) {
                sum += chance;
            }
            f.iodine.push_back(sum / static_cast<double>(f.members));
        }
        f.done_h = done_;
        std::sort(f.done_h.begin(), f.done_h.end());
        return f;
    }

private:
    static constexpr std::size_t quantities = 7;
    std::vector<double> hours_;
    std::vector<std::vector<double>> values_;
    std::vector<double> done_;
};

}  // namespace detail

/// The forecast of a batch.
///   f         see Fermentation::of
///   hours     times, as for simulate; "done" is looked for up to the last of them
///   belief    the priors, or what a fit left of them
///   members   courses, 2 to 1e6
///   seed      the same seed gives the same forecast on every machine
///   ->        quantiles of what can be measured. They hold what is not known of grain, enzymes, yeast and vessel, not the error of a reading.
/// Throws as simulate does. Source: kinetic_table; coverage on published fermentations in docs/no_cook_model.md.
inline Forecast forecast(const Fermentation& f, const std::vector<double>& hours, const Belief& belief = {}, const std::size_t members = usual_members,
                         const std::uint64_t seed = usual_seed) {
    detail::require_times(hours);
    detail::require_members(members);
    detail::Gathering all(hours);
    for (std::size_t i = 0; i < members; ++i) {
        all.add(simulate(f, hours, belief.draw(seed, i), detail::ensemble_tolerance(f)));
    }
    return all.forecast();
}

}  // namespace ferment
