#pragma once
// Quantiles: exact ones of values at hand, and those of any number of values from counts.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/core/scalar.hpp>
#include <limits>
#include <span>
#include <vector>

namespace ferment {

/// The shares of a band: 90 % lie between the first and the last, 50 % between the second and the fourth.
inline constexpr std::array<double, 5> band_shares{0.05, 0.25, 0.5, 0.75, 0.95};

/// Quantiles at band_shares.
using Spread = std::array<double, band_shares.size()>;

namespace detail {

/// Where a quantile lies among n sorted values.
struct QuantilePlace {
    std::size_t below = 0, above = 0;
    double share = 0.0;

    QuantilePlace(const double q, const std::size_t n) {
        const double place = q * static_cast<double>(n - 1);
        below = static_cast<std::size_t>(place);
        above = std::min(below + 1, n - 1);
        share = place - static_cast<double>(below);
    }
    /// Straight between the two. Equal neighbours need no arithmetic, which would turn two infinities into NaN.
    [[nodiscard]] double between(const double low, const double high) const { return low == high || share == 0.0 ? low : low + share * (high - low); }
};

}  // namespace detail

/// The quantile q of sorted values, straight between neighbours; NaN for none.
inline double quantile_of_sorted(const std::vector<double>& sorted, const double q) {
    if (sorted.empty()) return std::numeric_limits<double>::quiet_NaN();
    const detail::QuantilePlace place(q, sorted.size());
    return place.between(sorted[place.below], sorted[place.above]);
}

namespace detail {

/// Values in rough order, so that one rank is found among a few.
class Ranked {
public:
    /// values   finite; the least and the greatest differ
    Ranked(const std::span<const double> values, const double least, const double greatest) : sorted_(values.size()), place_(values.size()) {
        const double scale = (static_cast<double>(buckets) - 0.5) / (greatest - least);
        for (std::size_t i = 0; i < values.size(); ++i) {
            place_[i] = static_cast<std::uint32_t>((values[i] - least) * scale);
            ++end_[place_[i]];
        }
        for (std::size_t b = 1; b < buckets; ++b) end_[b] += end_[b - 1];
        begin_ = end_;
        for (std::size_t i = 0; i < values.size(); ++i) sorted_[--begin_[place_[i]]] = values[i];
    }
    double operator[](const std::size_t rank) {
        const auto bucket = static_cast<std::size_t>(std::upper_bound(end_.begin(), end_.end(), rank) - end_.begin());
        const auto at = sorted_.begin();
        std::nth_element(at + begin_[bucket], at + static_cast<std::ptrdiff_t>(rank), at + end_[bucket]);
        return sorted_[rank];
    }

private:
    static constexpr std::size_t buckets = 256;
    std::array<std::uint32_t, buckets> begin_{};
    std::array<std::uint32_t, buckets> end_{};
    std::vector<double> sorted_;
    std::vector<std::uint32_t> place_;
};

/// Quantiles at band_shares, from the value of each rank.
template <class OfRank>
Spread spread_by_rank(const std::size_t n, OfRank&& of_rank) {
    Spread s{};
    std::transform(band_shares.begin(), band_shares.end(), s.begin(), [&](const double q) {
        const QuantilePlace place(q, n);
        const double low = of_rank(place.below);
        return place.above == place.below ? low : place.between(low, of_rank(place.above));
    });
    return s;
}

/// Exact quantiles of values; NaN where one of them is no number, and for none.
inline Spread exact_spread(const std::span<const double> values) {
    Spread s{};
    double least = std::numeric_limits<double>::infinity(), greatest = -least;
    bool numbers = !values.empty();
    for (const double x : values) {
        numbers = numbers && !std::isnan(x);
        least = x < least ? x : least;
        greatest = x > greatest ? x : greatest;
    }
    if (!numbers || least == greatest) {
        s.fill(numbers ? least : std::numeric_limits<double>::quiet_NaN());
        return s;
    }
    constexpr double steepest = 1e300;  // of what tells the values apart
    if (std::isfinite(greatest - least) && greatest - least > 1.0 / steepest) {
        detail::Ranked ranked(values, least, greatest);
        return detail::spread_by_rank(values.size(), [&](const std::size_t rank) { return ranked[rank]; });
    }
    std::vector<double> sorted(values.begin(), values.end());
    std::sort(sorted.begin(), sorted.end());
    return detail::spread_by_rank(values.size(), [&](const std::size_t rank) { return sorted[rank]; });
}

}  // namespace detail

/// Exact quantiles of values; NaN where one of them is no number, and for none.
inline Spread spread_of(const std::vector<double>& values) {
    return detail::exact_spread(values);
}

/// Counts of values in bins of equal width over a bracket, and what lies beyond. Whole numbers: the order of the values does not matter.
class Counts {
public:
    Counts(const num::interval bracket, const std::size_t bins)
        : bracket_(bracket), scale_(bracket.upper > bracket.lower ? static_cast<double>(bins) / (bracket.upper - bracket.lower) : 0.0), counts_(bins + 2) {}

    /// From the least to the greatest of some values.
    static num::interval bracket_of(const std::span<const double> values) {
        const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
        return {*least, *greatest};
    }

    void add(const std::span<const double> values) {
        const double last = static_cast<double>(counts_.size() - 3);
        for (const double x : values) {
            if (std::isnan(x)) {
                ++no_numbers_;
                continue;
            }
            least_ = std::min(least_, x);
            greatest_ = std::max(greatest_, x);
            const double bin = x < bracket_.lower ? -1.0 : x > bracket_.upper ? last + 1.0 : std::min((x - bracket_.lower) * scale_, last);
            ++counts_[static_cast<std::size_t>(bin + 1.0)];
        }
        size_ += values.size();
    }

    /// Width of a bin: how far a quantile is off at most that lies in the bracket. Beyond it lies none between 5 and 95 % but once in 1e22 brackets of the
    /// first 1024 values.
    [[nodiscard]] double resolution() const { return (bracket_.upper - bracket_.lower) / static_cast<double>(counts_.size() - 2); }
    [[nodiscard]] std::size_t size() const { return size_; }

    /// The quantile q, within a bin of the exact one; NaN where a value was no number, and for none.
    [[nodiscard]] double quantile(const double q) const {
        if (size_ == 0 || no_numbers_ > 0) return std::numeric_limits<double>::quiet_NaN();
        const detail::QuantilePlace place(q, size_);
        const double low = of_rank(place.below);
        return place.above == place.below ? low : place.between(low, of_rank(place.above));
    }
    [[nodiscard]] Spread spread() const {
        Spread s{};
        std::transform(band_shares.begin(), band_shares.end(), s.begin(), [&](const double q) { return quantile(q); });
        return s;
    }

private:
    /// The value of a rank, as if those of a bin lay evenly in it.
    [[nodiscard]] double of_rank(const std::size_t rank) const {
        std::size_t before = 0;
        std::size_t bin = 0;
        while (before + counts_[bin] <= rank) before += counts_[bin++];
        const bool below = bin == 0, above = bin + 1 == counts_.size();
        if (above && std::isinf(greatest_)) return greatest_;
        if (below && std::isinf(least_)) return least_;
        const double lower = below ? least_ : above ? bracket_.upper : bracket_.lower + static_cast<double>(bin - 1) * resolution();
        const double upper = below ? bracket_.lower : above ? greatest_ : lower + resolution();
        constexpr double middle = 0.5;
        const double share = (static_cast<double>(rank - before) + middle) / static_cast<double>(counts_[bin]);
        return std::clamp(lower + share * (upper - lower), least_, greatest_);
    }

    num::interval bracket_;
    double scale_;
    std::vector<std::uint32_t> counts_;  // below the bracket, its bins, above
    std::size_t size_ = 0;
    std::size_t no_numbers_ = 0;
    double least_ = std::numeric_limits<double>::infinity();
    double greatest_ = -std::numeric_limits<double>::infinity();
};

}  // namespace ferment
