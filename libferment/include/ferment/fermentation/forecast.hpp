#pragma once
// Many courses at once: bands of what can be measured and the day of "done", from the spread of every parameter.

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <atomic>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/seed_seq.hpp>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/core/error.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/ensemble.hpp>
#include <ferment/fermentation/quantiles.hpp>
#include <ferment/fermentation/simulate.hpp>
#include <mutex>
#include <span>
#include <utility>
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
    /// When the members are done, sorted; infinite where one is not by the last time. Above most_exact_members: 4001 quantiles at even distances.
    std::vector<double> done_h;
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

/// Up to so many members their own figures are kept and quantiles are exact; of more only counts are kept.
inline constexpr std::size_t most_exact_members = 4096;

namespace detail {

inline constexpr std::size_t most_members = 10'000'000;

inline void require_members(const std::size_t members) {
    require_inside("members", static_cast<double>(members), "", {2.0, static_cast<double>(most_members)}, "of an ensemble");
}

/// Everything of every member.
class ExactFigures {
public:
    static constexpr std::size_t bands = 6;                            // the first rows of MemberRows
    static constexpr std::size_t quantities = MemberRows::quantities;  // and the chance of a positive iodine test

    ExactFigures(const std::size_t times, const std::size_t members)
        : times_(times), members_(members), values_(times * quantities * members), done_(members) {}

    /// Each thread writes what belongs to its members.
    struct Take {
        ExactFigures& all;
        void operator()(const std::size_t member, const MemberRows& rows) const {
            for (std::size_t i = 0; i < all.times_; ++i) {
                for (std::size_t q = 0; q < bands; ++q) all.values_[(i * quantities + q) * all.members_ + member] = rows.value[q * rows.stride + i];
                all.values_[(i * quantities + bands) * all.members_ + member] = iodine_test::chance_positive(rows.value[bands * rows.stride + i]);
            }
            all.done_[member] = rows.done_h;
        }
        void finish() const {}
    };

    /// A quantity of all members at a time.
    [[nodiscard]] std::span<double> figures(const std::size_t time, const std::size_t quantity) {
        return {values_.data() + (time * quantities + quantity) * members_, members_};
    }
    [[nodiscard]] std::vector<double>& done() { return done_; }

private:
    std::size_t times_;
    std::size_t members_;
    std::vector<double> values_;
    std::vector<double> done_;
};

/// A forecast with room for its bands.
inline Forecast empty_forecast(const std::vector<double>& hours, const std::size_t members) {
    Forecast f;
    f.time_h = hours;
    f.members = members;
    for (Band* band : {&f.gravity, &f.abv, &f.temperature, &f.conversion, &f.co2_lost, &f.co2_rate}) band->resize(hours.size());
    f.iodine.resize(hours.size());
    return f;
}
inline std::array<Band*, ExactFigures::bands> bands_of(Forecast& f) {
    return {&f.gravity, &f.abv, &f.temperature, &f.conversion, &f.co2_lost, &f.co2_rate};
}

/// Calls of(i) for i below `count` in several threads.
template <class Of>
void for_each_in_threads(const std::size_t count, const std::size_t threads, const Of& of) {
    WaitingMembers waiting(0, count);
    in_threads(std::clamp<std::size_t>(count, 1, threads), waiting, [&](bool /*calling*/) {
        for (std::size_t i = 0; waiting.take(i);) of(i);
    });
}

inline Forecast exact_forecast(const std::vector<double>& hours, const std::size_t members, const std::size_t threads, ExactFigures& all) {
    Forecast f = empty_forecast(hours, members);
    const std::array<Band*, ExactFigures::bands> bands = bands_of(f);
    for_each_in_threads(hours.size(), threads, [&](const std::size_t i) {
        for (std::size_t q = 0; q < bands.size(); ++q) (*bands[q])[i] = exact_spread(all.figures(i, q));
        double sum = 0.0;
        for (const double chance : all.figures(i, ExactFigures::bands)) sum += chance;
        f.iodine[i] = sum / static_cast<double>(members);
    });
    f.done_h = std::move(all.done());
    std::sort(f.done_h.begin(), f.done_h.end());
    return f;
}

/// Counts of every figure, for any number of members. Whole numbers throughout, so that the order does not matter.
class CountedFigures {
public:
    static constexpr std::size_t bands = ExactFigures::bands;

    /// Brackets from the first members, which are not counted yet.
    CountedFigures(const std::vector<double>& hours, ExactFigures& first) : hours_(hours), chance_(hours.size()), done_({0.0, hours.back()}, done_bins) {
        counts_.reserve(hours.size() * bands);
        for (std::size_t i = 0; i < hours.size(); ++i) {
            for (std::size_t q = 0; q < bands; ++q) counts_.emplace_back(Counts::bracket_of(first.figures(i, q)), band_bins);
        }
    }

    /// One thread's members, handed over in blocks.
    class Take {
    public:
        explicit Take(CountedFigures& all)
            : all_(&all),
              block_(std::clamp<std::size_t>(block_values / (all.hours_.size() * ExactFigures::quantities), least_block, most_block)),
              values_(block_ * all.hours_.size() * ExactFigures::quantities),
              done_(block_) {}

        void operator()(std::size_t /*member*/, const MemberRows& rows) {
            const std::size_t times = all_->hours_.size();
            for (std::size_t i = 0; i < times; ++i) {
                for (std::size_t q = 0; q < bands; ++q) values_[(i * ExactFigures::quantities + q) * block_ + filled_] = rows.value[q * rows.stride + i];
                values_[(i * ExactFigures::quantities + bands) * block_ + filled_] = iodine_test::chance_positive(rows.value[bands * rows.stride + i]);
            }
            done_[filled_] = rows.done_h;
            if (++filled_ == block_) finish();
        }
        void finish() {
            all_->count(values_.data(), done_.data(), block_, filled_);
            filled_ = 0;
        }

    private:
        static constexpr std::size_t block_values = 131072, least_block = 16, most_block = 256;  // about a megabyte
        CountedFigures* all_;
        std::size_t block_;
        std::vector<double> values_;
        std::vector<double> done_;
        std::size_t filled_ = 0;
    };

    void count(const double* const values, const double* const done, const std::size_t block, const std::size_t filled) {
        const std::size_t times = hours_.size();
        const std::size_t begin = next_part_++;  // threads start in different parts
        for (std::size_t n = 0; n < parts; ++n) {
            const std::size_t part = (begin + n) % parts;
            const std::scoped_lock lock(locks_[part]);
            for (std::size_t i = part; i < times; i += parts) {
                for (std::size_t q = 0; q < bands; ++q) counts_[i * bands + q].add({values + (i * ExactFigures::quantities + q) * block, filled});
                for (std::size_t m = 0; m < filled; ++m) {
                    chance_[i] += std::llround(chance_unit * values[(i * ExactFigures::quantities + bands) * block + m]);
                }
            }
            if (part == 0) done_.add({done, filled});
        }
    }

    [[nodiscard]] Forecast forecast(const std::size_t members, const std::size_t threads) const {
        Forecast f = empty_forecast(hours_, members);
        const std::array<Band*, bands> into = bands_of(f);
        for_each_in_threads(hours_.size(), threads, [&](const std::size_t i) {
            for (std::size_t q = 0; q < bands; ++q) (*into[q])[i] = counts_[i * bands + q].spread();
            f.iodine[i] = static_cast<double>(chance_[i]) / chance_unit / static_cast<double>(members);
        });
        f.done_h.reserve(done_quantiles);
        for (std::size_t i = 0; i < done_quantiles; ++i) {
            f.done_h.push_back(done_.quantile(static_cast<double>(i) / static_cast<double>(done_quantiles - 1)));
        }
        return f;
    }

private:
    static constexpr std::size_t parts = 16;
    static constexpr std::size_t band_bins = 2048, done_bins = 65536, done_quantiles = 4001;  // so that band_shares are among them
    static constexpr double chance_unit = 0x1p36;  // a sum of chances as a whole number, which does not depend on the order
    const std::vector<double>& hours_;
    std::vector<Counts> counts_{};
    std::vector<std::int64_t> chance_;
    Counts done_;
    std::array<std::mutex, parts> locks_{};
    std::atomic<std::size_t> next_part_{0};
};

/// The forecast of an ensemble.
///   f           what its members have in common
///   course_at   callable std::size_t -> fermentation_course<double>, see follow_members
template <class CourseAt>
Forecast forecast_of(const Fermentation& f, const std::vector<double>& hours, const std::size_t members, const CourseAt& course_at,
                     const EnsembleOptions& options) {
    constexpr std::size_t bracket_members = 1024;
    const LaneBatch batch = LaneBatch::of(f, ensemble_tolerance(f));
    const std::size_t threads = ensemble_threads(options.threads, members);
    const bool exact = members <= most_exact_members;
    ExactFigures first(hours.size(), exact ? members : bracket_members);
    follow_members(batch, hours, 0, exact ? members : bracket_members, course_at, options, [&] { return ExactFigures::Take{first}; });
    if (exact) return exact_forecast(hours, members, threads, first);
    CountedFigures counted(hours, first);
    follow_members(batch, hours, 0, members, course_at, options, [&] { return CountedFigures::Take(counted); });
    return counted.forecast(members, threads);
}

}  // namespace detail

/// The forecast of a batch.
///   f         see Fermentation::of
///   hours     times, as for simulate; "done" is looked for up to the last of them
///   belief    the priors, or what a fit left of them
///   members   courses, 2 to 1e7. Up to most_exact_members all are kept and quantiles are exact; of more, counts in 2048 bins of the range of the first
///             1024 members: quantiles are within one bin of the exact ones, "done" within 1/65536 of the last time, and memory does not depend on members
///   seed      the same seed draws the same members on every machine
///   options   threads; the result does not depend on them
///   ->        quantiles of what can be measured. They hold what is not known of grain, enzymes, yeast and vessel, not the error of a reading.
/// Throws as simulate does. Source: kinetic_table; coverage on published fermentations in docs/no_cook_model.md.
inline Forecast forecast(const Fermentation& f, const std::vector<double>& hours, const Belief& belief = {}, const std::size_t members = usual_members,
                         const std::uint64_t seed = usual_seed, const EnsembleOptions& options = {}) {
    detail::require_times(hours);
    detail::require_members(members);
    return detail::forecast_of(
        f, hours, members, [&](const std::size_t i) { return fermentation_course<double>::of(f, belief.draw(seed, i)); }, options);
}

}  // namespace ferment
