#pragma once
// Jars filled one after the other from a run: what each of them holds. Cuts (cuts.hpp) are what is measured in jars, this is what a model expects there.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/still/cautions.hpp>
#include <ferment/still/column.hpp>
#include <ferment/still/cuts.hpp>
#include <ferment/still/stripping.hpp>
#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ferment {

/// A jar as a run fills it.
struct FilledJar {
    double size_l = 0.0;         ///< asked for, at temperature_c
    double filled_l = 0.0;       ///< in it at temperature_c: size_l, unless the run ended in it
    double temperature_c = 0.0;  ///< at which it was collected
    double volume_20c_l = 0.0;
    double mass_kg = 0.0;
    double ethanol_kg = 0.0;
    double abw = 0.0;            ///< mass fraction
    double abv = 0.0;            ///< fraction by volume at 20 degC
    double alcohol_share = 0.0;  ///< of the alcohol that came over in the whole run, fraction; NaN where none did
    double from_kg = 0.0;        ///< come over before it
    double to_kg = 0.0;          ///< come over when it was full
    double from_abv = 0.0;       ///< of what comes over when it begins, fraction by volume
    double to_abv = 0.0;         ///< and when it is full

    /// The same as a jar of cuts.hpp, with the usual uncertainties of a reading.
    [[nodiscard]] Jar as_jar(const cut_label label = cut_label::none) const {
        Jar jar;
        jar.volume_l = filled_l;
        jar.temperature_c = temperature_c;
        jar.abv = abv;
        jar.label = label;
        return jar;
    }
};

/// All jars of a run. Jars and rest are the whole of what came over, mass and ethanol, to round-off.
struct FilledJars {
    std::vector<FilledJar> jars;  ///< those that got something
    FilledJar rest;               ///< what comes over after the last jar; of no mass, and NaN strength, where nothing does. Its size is what it fills
    std::size_t unused = 0;       ///< jars that nothing was left for
    double mass_kg = 0.0;         ///< of the run: all that came over
    double ethanol_kg = 0.0;
    std::string_view cautions = still_cautions;
};

namespace detail {

/// A point of a run, as far as jars need it.
struct jar_curve_point {
    double kg;          ///< come over
    double ethanol_kg;  ///< in it
    double abw;         ///< of what is coming over, mass fraction
};

/// What has come over, between the points of a curve. In every stretch the strength is a parabola with the strengths of both ends and the ethanol of the
/// stretch, and where that would leave the strengths of the ends, the steepest one that does not: P. Colella, P. R. Woodward, 1984, J. Comput. Phys. 54,
/// 174-201, eqs. (1.5) and (1.10), from memory. So the ethanol of the curve is kept, and no strength is made up that does not lie between its points.
class jar_curve {
public:
    explicit jar_curve(std::vector<jar_curve_point> points) : points_(std::move(points)) {
        if (points_.empty()) throw InputError("jars: the run has no curve; take it from strip or rectify");
        for (std::size_t i = 0; i < points_.size(); ++i) {
            const jar_curve_point& p = points_[i];
            const double before = i == 0 ? 0.0 : points_[i - 1].kg;
            if (!std::isfinite(p.kg) || !std::isfinite(p.ethanol_kg) || !std::isfinite(p.abw) || p.kg < before) {
                throw InputError("jars: the curve of the run must hold numbers, and what has come over must rise; at point " + std::to_string(i) + " it is " +
                                 format_quantity(p.kg, "kg"));
            }
        }
        if (points_.front().kg != 0.0 || points_.front().ethanol_kg != 0.0) throw InputError("jars: the curve of the run must begin at the first drop");
        if (points_.back().kg == 0.0) throw InputError("jars: nothing came over in this run");
    }

    [[nodiscard]] double kg() const { return points_.back().kg; }
    [[nodiscard]] double ethanol_kg() const { return points_.back().ethanol_kg; }

    /// Ethanol that has come over with so much, kg.
    [[nodiscard]] double ethanol_with(const double kg) const {
        if (kg >= points_.back().kg) return points_.back().ethanol_kg;
        const stretch s = at(kg);
        return s.ethanol_kg + s.length_kg * s.share * (s.left + 0.5 * s.share * (s.right - s.left + s.bend * (1.0 - 2.0 / 3.0 * s.share)));
    }

    /// Mass fraction of what comes over then.
    [[nodiscard]] double strength_at(const double kg) const {
        if (kg >= points_.back().kg) return points_.back().abw;
        const stretch s = at(kg);
        return s.left + s.share * (s.right - s.left + s.bend * (1.0 - s.share));
    }

private:
    struct stretch {
        double ethanol_kg;  // come over before it
        double length_kg;
        double share;  // of it that lies behind
        double left;   // strength where it begins
        double right;
        double bend;
    };

    [[nodiscard]] stretch at(const double kg) const {
        const auto after = std::upper_bound(points_.begin(), points_.end(), kg, [](const double m, const jar_curve_point& p) { return m < p.kg; });
        const jar_curve_point& b = *after;
        const jar_curve_point& a = *(after - 1);
        const double length = b.kg - a.kg;
        const double mean = (b.ethanol_kg - a.ethanol_kg) / length;
        double left = a.abw;
        double right = b.abw;
        const auto bend = [&] { return 6.0 * (mean - 0.5 * (left + right)); };
        const double slope = right - left;
        if ((right - mean) * (mean - left) <= 0.0) {
            left = right = mean;
        } else if (slope * bend() > slope * slope) {
            left = 3.0 * mean - 2.0 * right;
        } else if (slope * bend() < -slope * slope) {
            right = 3.0 * mean - 2.0 * left;
        }
        return {a.ethanol_kg, length, (kg - a.kg) / length, left, right, bend()};
    }

    std::vector<jar_curve_point> points_;
};

inline jar_curve jar_curve_of(const Stripping& run) {
    std::vector<jar_curve_point> points;
    points.reserve(run.curve.size());
    for (const StrippingPoint& p : run.curve) points.push_back({p.collected_kg, p.collected_kg * p.low_wines_abw, p.distillate_abw});
    return jar_curve(std::move(points));
}
inline jar_curve jar_curve_of(const ColumnRun& run) {
    std::vector<jar_curve_point> points;
    points.reserve(run.points.size());
    for (const ColumnPoint& p : run.points) points.push_back({p.collected_kg, p.collected_kg * p.collected_abw, p.abw});
    return jar_curve(std::move(points));
}

inline constexpr num::interval collection_range{0.0, oiml_r22::t_range.upper};  // degC

/// Jars of so many litres; without sizes as many of `each_l` as the run fills.
inline FilledJars fill(const jar_curve& run, const std::span<const double> sizes_l, const double each_l, const double t) {
    constexpr double round_off = 1e-12;  // of a jar: the run that just fills it leaves no rest
    constexpr std::size_t most_jars = 100000;
    require_number("temperature of collection", t, "degC", collection_range, "liquid water and the density of spirit");
    const bool alike = sizes_l.empty();
    if (alike) require_more_than_none("size of the jars", each_l, "L");
    for (std::size_t k = 0; k < sizes_l.size(); ++k) require_more_than_none("size of " + jar_name(k), sizes_l[k], "L");

    const auto litres = [&](const double kg, const double abw) { return kg / oiml_r22::density(abw, t) / litre_m3; };
    FilledJars out;
    out.mass_kg = run.kg();
    out.ethanol_kg = run.ethanol_kg();
    double from_kg = 0.0;
    double from_ethanol_kg = 0.0;
    const auto take = [&](const double to_kg, const double size_l) {
        FilledJar jar;
        const double to_ethanol_kg = run.ethanol_with(to_kg);
        jar.temperature_c = t;
        jar.mass_kg = to_kg - from_kg;
        jar.ethanol_kg = to_ethanol_kg - from_ethanol_kg;
        jar.abw = jar.ethanol_kg / jar.mass_kg;
        jar.abv = volume_at_20c::from_abw(jar.abw);
        const bool something = jar.mass_kg > 0.0;
        jar.filled_l = something ? litres(jar.mass_kg, jar.abw) : 0.0;
        jar.size_l = std::isnan(size_l) ? jar.filled_l : size_l;
        jar.volume_20c_l = something ? jar.mass_kg / volume_at_20c::density(jar.abw) / litre_m3 : 0.0;
        jar.alcohol_share = jar.ethanol_kg / run.ethanol_kg();
        jar.from_kg = from_kg;
        jar.to_kg = to_kg;
        jar.from_abv = volume_at_20c::from_abw(run.strength_at(from_kg));
        jar.to_abv = volume_at_20c::from_abw(run.strength_at(to_kg));
        from_kg = to_kg;
        from_ethanol_kg = to_ethanol_kg;
        return jar;
    };
    const auto left_l = [&] { return litres(run.kg() - from_kg, (run.ethanol_kg() - from_ethanol_kg) / (run.kg() - from_kg)); };
    // Where a jar of this size is full. Its volume for each kg more is nearly that of its mean: a slope good enough for Newton's steps.
    const auto full_at = [&](const double size_l) {
        const auto over = [&](const double kg) {
            const double mass = kg - from_kg;
            const double abw = mass > 0.0 ? (run.ethanol_with(kg) - from_ethanol_kg) / mass : run.strength_at(from_kg);
            return num::value_and_slope<double>{litres(mass, abw) - size_l, litres(1.0, abw)};
        };
        const double guess = from_kg + size_l / litres(1.0, run.strength_at(from_kg));
        return num::bracketed_newton<double>(over, from_kg, run.kg(), guess);
    };

    if (alike && left_l() / each_l > static_cast<double>(most_jars)) {
        throw RangeError("size of the jars " + format_quantity(each_l, "L") + " is too small: the run would fill more than " + std::to_string(most_jars));
    }
    for (std::size_t k = 0; alike || k < sizes_l.size(); ++k) {
        if (from_kg >= run.kg()) {
            out.unused = alike ? 0 : sizes_l.size() - k;
            break;
        }
        const double size_l = alike ? each_l : sizes_l[k];
        const bool last = left_l() <= size_l * (1.0 + round_off);
        out.jars.push_back(take(last ? run.kg() : full_at(size_l), size_l));
    }
    out.rest = take(run.kg(), std::numeric_limits<double>::quiet_NaN());
    return out;
}

}  // namespace detail

/// What jars hold that a run fills, one after the other.
///   run             of a simple still or of a column, as strip or rectify gave it; its curve is followed between its points, so that more points are better
///   sizes_l         of the jars, in order, at the temperature of collection; each more than zero, at least one
///   temperature     at which the jars are filled, 0 to 40 degC; 20 where the volumes are at 20 degC
///   ->              the jars that get something, the last of them perhaps not full, and as a rest what comes over after the last: never an error, for
///                   whoever fills a few jars and then a bucket has done nothing wrong
/// Jars and rest close to the run in mass and ethanol; volumes do not add up, as spirit contracts when it is mixed.
/// Throws RangeError for a size not above zero and outside the temperatures, InputError for what is no number, no jar, and a run in which nothing came over.
/// Source: rayleigh or plate_to_plate, oiml_r22.
template <class Run>
FilledJars fill_jars(const Run& run, const std::span<const double> sizes_l, const celsius<>& temperature = oiml_r22::reference_c * degree_celsius) {
    if (sizes_l.empty()) throw InputError("jars: no size given");
    return detail::fill(detail::jar_curve_of(run), sizes_l, std::numeric_limits<double>::quiet_NaN(), temperature.value());
}

/// The same with jars of one size, as many as the run fills: no rest.
template <class Run>
FilledJars fill_jars(const Run& run, const volume<>& size, const celsius<>& temperature = oiml_r22::reference_c * degree_celsius) {
    return detail::fill(detail::jar_curve_of(run), {}, value_in(size, litre), temperature.value());
}

}  // namespace ferment
