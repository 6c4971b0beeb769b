#pragma once
// The simple still: what comes over, how strong, and what is left in the pot.

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/enthalpy.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/still/cautions.hpp>
#include <ferment/still/charge.hpp>
#include <limits>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ferment {

/// Simple distillation: every bit of vapour is in equilibrium with the liquid it leaves, and is taken away at once.
///
///   d ln w / d ln S = v/w - 1,   or   ln(S/S0) = integral of dw/(v - w) from w0 to w
///
/// S is what can boil (ethanol and water), w and v the ethanol in it and in its vapour. Both forms hold by mass as by moles; so does the relative
/// volatility a, through which the vapour enters: v = a w/(1 + (a - 1) w). The same in either, and no division by w where there is no ethanol.
struct rayleigh {
    static constexpr source from{
        "rayleigh",
        "residue and distillate of a simple still",
        "Perry's Chemical Engineers' Handbook, 6th ed., section 13, simple batch distillation (Rayleigh's equation)",
        "a still without plates, packing or cooled head, well stirred by its own boiling",
        "integrated to 1e-11; what a bare neck condenses makes the first runnings of a real still a few % vol stronger (common practice, no source)",
        source_status::secondary,
    };
    static constexpr double accuracy = 1e-11;  // of every integrated quantity, per step; each is of the order of one
    static constexpr double easy = 1e-3;       // of the accuracy: no higher order is needed, and the next step may be twice as long

    /// Vapour over liquid, v/w.
    ///   w   fraction of the more volatile in the liquid
    ///   a   relative volatility
    template <class T>
    static constexpr T enrichment(const T& w, const T& a) {
        return a / (1.0 + (a - 1.0) * w);
    }

    /// The integral of dw/(v - w): logarithm of charge over residue.
    ///   volatility   w -> relative volatility, not one in the range
    ///   before, after   fraction in the pot, above 0 and below 1, by mass or by moles
    ///   ->           ln(S0/S); positive where the pot grows weaker under a > 1; NaN for NaN
    template <class Volatility>
    static double log_residue(const Volatility& volatility, const double before, const double after) {
        if (!(before > 0.0 && before < 1.0 && after > 0.0 && after < 1.0)) {
            return std::numeric_limits<double>::quiet_NaN();
        }
        constexpr unsigned halvings = 12;
        constexpr double quadrature_accuracy = 1e-10;  // relative; near the azeotrope round-off leaves no more
        // In ln w, in which the dilute end is a straight line.
        const auto integrand = [&](const double ln_w) {
            const double w = std::exp(ln_w);
            return 1.0 / (enrichment(w, static_cast<double>(volatility(w))) - 1.0);
        };
        return boost::math::quadrature::gauss_kronrod<double, 15>::integrate(integrand, std::log(after), std::log(before), halvings, quadrature_accuracy);
    }

    /// Integrates dy/ds = slope(s, y): modified midpoint rule (Gragg), extrapolated to vanishing steps (Bulirsch and Stoer), up to tenth order.
    ///   y      at `start`; every part of the order of one
    ///   step   first step to try; changed to the one that served
    ///   ->     y at `end`; NaN where the slope is
    template <class T, std::size_t N, class Slope>
    static std::array<T, N> advance(const Slope& slope, std::array<T, N> y, const double start, const double end, double& step) {
        constexpr double smallest = 1e-9;
        double s = start;
        while (s < end) {
            const double left = end - s;
            const bool last = step >= left;
            const double h = last ? left : step;
            const attempt<T, N> tried = extrapolate<T, N>(slope, y, s, h);
            if (!(tried.error <= accuracy) && h > smallest) {
                step = 0.5 * h;
                continue;
            }
            y = tried.y;
            if (std::isnan(tried.error)) {
                break;
            }
            s = last ? end : s + h;
            if (tried.error <= easy * accuracy && !last) {
                step *= 2.0;
            }
        }
        return y;
    }

private:
    template <class T, std::size_t N>
    struct attempt {
        std::array<T, N> y;
        double error;
    };

    template <class T, std::size_t N>
    static std::array<T, N> sum(const std::array<T, N>& a, const std::array<T, N>& b, const double factor) {
        std::array<T, N> out = a;
        for (std::size_t i = 0; i < N; ++i) {
            out[i] = a[i] + factor * b[i];
        }
        return out;
    }

    template <class T, std::size_t N, class Slope>
    static std::array<T, N> midpoint(const Slope& slope, const std::array<T, N>& y, const std::array<T, N>& first, const double s, const double h,
                                     const int n) {
        const double part = h / n;
        std::array<T, N> before = y;
        std::array<T, N> here = sum(y, first, part);
        for (int i = 1; i < n; ++i) {
            const std::array<T, N> next = sum(before, slope(s + i * part, here), 2.0 * part);
            before = std::exchange(here, next);
        }
        const std::array<T, N> end = sum(before, slope(s + h, here), part);
        std::array<T, N> mean = here;
        for (std::size_t i = 0; i < N; ++i) {
            mean[i] = 0.5 * (here[i] + end[i]);
        }
        return mean;
    }

    template <class T, std::size_t N, class Slope>
    static attempt<T, N> extrapolate(const Slope& slope, const std::array<T, N>& y, const double s, const double h) {
        using num::value_of;
        constexpr std::array<int, 5> parts{2, 4, 6, 8, 10};
        const std::array<T, N> first = slope(s, y);
        std::array<std::array<T, N>, parts.size()> column{};
        std::array<T, N> coarser{};
        double error = 0.0;
        for (std::size_t k = 0; k < parts.size(); ++k) {
            column[k] = midpoint<T, N>(slope, y, first, s, h, parts[k]);
            for (std::size_t j = k; j-- > 0;) {  // column[j] holds the row before, and is brought up to this one
                const double ratio = static_cast<double>(parts[k]) / static_cast<double>(parts[j]);
                coarser = column[j + 1];
                for (std::size_t i = 0; i < N; ++i) {
                    column[j][i] = column[j + 1][i] + (column[j + 1][i] - column[j][i]) / (ratio * ratio - 1.0);
                }
            }
            error = 0.0;
            for (std::size_t i = 0; i < N; ++i) {
                const double off = std::abs(value_of(column[0][i]) - value_of(coarser[i]));
                error = off <= error || std::isnan(error) ? error : off;  // NaN stays
            }
            if (k > 0 && error <= easy * accuracy) break;  // a short step needs no higher order
        }
        return {column[0], error};
    }
};

/// When a run ends. Strengths are volume fractions at 20 degC.
struct StripStop {
    enum class when { distillate_abv, pot_abv, collected_l, head_c, recovered_share };
    when what = when::distillate_abv;
    double value = 0.0;

    static StripStop distillate_abv(const abv<>& strength) { return {when::distillate_abv, strength.value()}; }  ///< what comes over has fallen to
    static StripStop pot_abv(const abv<>& strength) { return {when::pot_abv, strength.value()}; }                ///< the pot has fallen to
    static StripStop collected(const volume<>& amount) { return {when::collected_l, value_in(amount, litre)}; }  ///< this much has come over
    static StripStop head(const celsius<>& temperature) { return {when::head_c, temperature.value()}; }          ///< the head has risen to
    static StripStop recovered(const double share) { return {when::recovered_share, share}; }                    ///< of the ethanol has come over

    friend bool operator==(const StripStop&, const StripStop&) = default;
};

/// One moment of a run.
struct StrippingPoint {
    double collected_l = 0.0;  ///< at 20 degC
    double collected_kg = 0.0;
    double distillate_abw = 0.0;  ///< what is coming over
    double distillate_abv = 0.0;
    double low_wines_abw = 0.0;  ///< all that has come over
    double low_wines_abv = 0.0;
    double pot_kg = 0.0;
    double pot_abw = 0.0;
    double pot_extract = 0.0;
    double pot_abv = 0.0;
    double head_c = 0.0;           ///< boiling point of the pot, at which the vapour leaves it
    double recovered_share = 0.0;  ///< of the ethanol; NaN where there is none
    double vapour_heat_kj = 0.0;   ///< enthalpy of all vapour so far; reference state of liquid/enthalpy.hpp
};

/// A stripping run from first to last drop.
struct Stripping {
    StillLiquid charge;
    StillLiquid low_wines;
    StillLiquid pot;  ///< what is left
    double pressure_kpa = 0.0;
    double low_wines_l = 0.0;  ///< at 20 degC
    double low_wines_abv = 0.0;
    double ethanol_left_kg = 0.0;
    double ethanol_left_l = 0.0;      ///< pure, at 20 degC
    double ethanol_left_share = 0.0;  ///< of that in the charge; NaN where there is none
    double boiling_start_c = 0.0;     ///< pot at the first drop
    double boiling_end_c = 0.0;       ///< and at the last
    std::vector<StrippingPoint> curve;
    std::string_view cautions = still_cautions;
};

namespace detail {

/// The pot of a run, by s = ln(S0/S).
class stripping_run {
public:
    // The logarithm of w/w0, which stays finite without ethanol, and the enthalpy of the vapour in MJ per kg that could boil.
    using state = std::array<double, 2>;
    static constexpr double joules_per_unit = 1e6;
    static constexpr double first_step = 0.05;
    static constexpr double driest = 0.01;  // of what can boil must stay: a pot never boils dry

    stripping_run(const StillLiquid& charge, const double pressure_pa, const double molar_mass)
        : charge_(charge), w0_(wash_vapour::in_solvent(charge.abw, charge.extract)), pressure_(pressure_pa), molar_mass_(molar_mass) {}

    /// How far the run can go: to the driest pot, or to the most extract the vapour holds for.
    [[nodiscard]] double farthest() const {
        constexpr double round_off = 1e-9;
        const double by_extract = charge_.extract_kg() * (1.0 / wash_vapour::extract_range.upper - 1.0) * (1.0 + round_off);
        const double least = std::max(driest * charge_.volatile_kg(), by_extract);
        return std::max(0.0, std::log(charge_.volatile_kg() / least));
    }

    [[nodiscard]] state operator()(const double s, const state& y) const {
        const wash_vapour::bubble<double> here = boiling(s, y);
        const double ratio = rayleigh::enrichment(solvent_abw(y), here.relative_volatility);
        return {1.0 - ratio, std::exp(-s) * spirit_heat::vapour_enthalpy(here.vapour, here.boiling_c) / joules_per_unit};
    }

    [[nodiscard]] state advance(const state& y, const double from, const double to, double& step) const {
        return rayleigh::advance<double, 2>(*this, y, from, to, step);
    }

    [[nodiscard]] StillLiquid pot(const double s, const state& y) const {
        const double volatiles = charge_.volatile_kg() * std::exp(-s);
        const double total = volatiles + charge_.extract_kg();
        return {total, volatiles * solvent_abw(y) / total, charge_.extract_kg() / total};
    }

    [[nodiscard]] StrippingPoint at(const double s, const state& y) const {
        const StillLiquid left = pot(s, y);
        const wash_vapour::bubble<double> here = boiling(s, y);
        StrippingPoint p;
        p.pot_kg = left.mass_kg;
        p.pot_abw = left.abw;
        p.pot_extract = left.extract;
        p.pot_abv = left.abv();
        p.head_c = here.boiling_c;
        p.distillate_abw = here.vapour;
        p.distillate_abv = volume_at_20c::from_abw(here.vapour);
        p.collected_kg = -charge_.volatile_kg() * std::expm1(-s);
        const double ethanol = -charge_.ethanol_kg() * std::expm1(-(s - y[0]));                     // none at the first drop, to the last digit
        p.low_wines_abw = s == 0.0 ? here.vapour : std::clamp(ethanol / p.collected_kg, 0.0, 1.0);  // beyond only by round-off
        p.low_wines_abv = volume_at_20c::from_abw(p.low_wines_abw);
        p.collected_l = litres_per_cubic_metre * p.collected_kg / volume_at_20c::density(p.low_wines_abw);
        p.recovered_share = ethanol / charge_.ethanol_kg();
        p.vapour_heat_kj = charge_.volatile_kg() * y[1] * joules_per_unit / kilojoule.value();
        return p;
    }

private:
    [[nodiscard]] double solvent_abw(const state& y) const { return w0_ * std::exp(y[0]); }
    [[nodiscard]] wash_vapour::bubble<double> boiling(const double s, const state& y) const {
        const StillLiquid left = pot(s, y);
        return course_.at(left.abw, left.extract, pressure_, molar_mass_);
    }

    StillLiquid charge_;
    double w0_;
    double pressure_;
    double molar_mass_;
    mutable wash_vapour::bubble_course course_{};  // remembers where to look next, nothing else
};

/// A stop as a number that falls to zero where the run ends, of the order of one.
struct stop_test {
    StripStop stop;

    [[nodiscard]] double of(const StrippingPoint& p) const {
        switch (stop.what) {
            case StripStop::when::distillate_abv: return p.distillate_abv;
            case StripStop::when::pot_abv: return p.pot_abv;
            case StripStop::when::collected_l: return p.collected_l;
            case StripStop::when::head_c: return p.head_c;
            case StripStop::when::recovered_share: return p.recovered_share;
        }
        return std::numeric_limits<double>::quiet_NaN();
    }
    [[nodiscard]] double left(const StrippingPoint& p) const {
        constexpr double degrees = 100.0;  // a temperature is some hundred of them
        const double ahead = stop.value - of(p);
        switch (stop.what) {
            case StripStop::when::collected_l: return stop.value == 0.0 ? 0.0 : ahead / stop.value;
            case StripStop::when::head_c: return ahead / degrees;
            case StripStop::when::recovered_share: return ahead;
            default: return -ahead;  // strengths fall
        }
    }
    [[nodiscard]] std::string_view name() const {
        switch (stop.what) {
            case StripStop::when::distillate_abv: return "strength coming over";
            case StripStop::when::pot_abv: return "strength of the pot";
            case StripStop::when::collected_l: return "volume collected";
            case StripStop::when::head_c: return "temperature of the head";
            case StripStop::when::recovered_share: return "share of the ethanol recovered";
        }
        return "stop";
    }
    [[nodiscard]] std::string told(const double x) const {
        switch (stop.what) {
            case StripStop::when::collected_l: return format_quantity(x, "L");
            case StripStop::when::head_c: return format_quantity(x, "degC");
            case StripStop::when::recovered_share: return format_quantity(percent * x, "%");
            default: return format_quantity(percent * x, "% vol");
        }
    }
    void require(const StillLiquid& charge) const {
        const std::string what(name());
        switch (stop.what) {
            case StripStop::when::collected_l: require_number(what, stop.value, "L", any_amount, "an amount"); break;
            case StripStop::when::head_c: require_number(what, stop.value, "degC", enthalpy_t_range, spirit_heat::from.citation); break;
            default: require_share_of(what, stop.value, {0.0, 1.0}, "a share of the whole");
        }
        if (stop.what == StripStop::when::recovered_share && charge.abw == 0.0) {
            throw InputError("a share of the ethanol cannot end a run: the charge holds none");
        }
    }
};

/// Where the stop is met.
inline double stop_at(const stripping_run& run, const stop_test& stop) {
    constexpr double round_off = 1e-12;
    const stripping_run::state fresh{};
    const StrippingPoint first = run.at(0.0, fresh);
    const double at_start = stop.left(first);
    if (at_start < -round_off) {
        throw RangeError(std::string(stop.name()) + " " + stop.told(stop.stop.value) + " is already passed at the first drop, with " +
                         stop.told(stop.of(first)));
    }
    if (at_start <= round_off) {
        return 0.0;
    }
    const double end = run.farthest();
    double step = stripping_run::first_step;
    double s = 0.0;
    stripping_run::state y = fresh;
    while (s < end) {
        const double next = std::min(end, s + step);
        double inner = step;
        const stripping_run::state then = run.advance(y, s, next, inner);
        if (stop.left(run.at(next, then)) <= 0.0) {
            const auto left = [&](const double where) {
                double whole = where - s;
                return stop.left(run.at(where, run.advance(y, s, where, whole)));
            };
            const auto f = [&](const double where) {
                constexpr double nudge = 1e-6;
                const double below = std::max(s, where - nudge);
                const double above = std::min(next, where + nudge);
                return num::value_and_slope<double>{vle::settled(left(where), round_off), (left(above) - left(below)) / (above - below)};
            };
            return num::bracketed_newton<double>(f, s, next, s + 0.5 * (next - s));
        }
        s = next;
        y = then;
    }
    throw SolveError(std::string(stop.name()) + " " + stop.told(stop.stop.value) + " is not reached: it is " + stop.told(stop.of(run.at(s, y))) + " when " +
                     format_quantity(percent * run.at(s, y).collected_kg / (run.at(s, y).collected_kg + run.at(s, y).pot_kg), "%") +
                     " of the charge has come over, where the pot is nearly dry or a syrup");
}

}  // namespace detail

/// A run of a simple still.
///   charge        what is in the pot; extract 0 to 30 % mass of it
///   at_pressure   20 to 110 kPa, absolute, in the pot
///   stop          when the run ends; the pot is never taken below 1 % of its ethanol and water, nor above 30 % extract
///   points        of the curve, from the first drop to the last, equally far apart in kg collected; at least 2
///   extract_molar_mass   60 to 2000 g/mol; glucose unless the extract is known
///   ->            low wines, pot and curve; mass and ethanol balance to round-off, pot and low wines to 1e-8 of the model
/// Without reflux: nothing condenses in the neck. Temperatures and strengths are as good as wash_vapour.
/// Throws InputError for what is no number, RangeError outside and for a stop that is passed at the first drop, SolveError for one never reached.
/// Source: rayleigh, wash_vapour, spirit_heat.
inline Stripping strip(const StillLiquid& charge, const pressure<>& at_pressure, const StripStop& stop, const std::size_t points = 51,
                       const double extract_molar_mass = wash_vapour::extract_molar_mass) {
    detail::require_liquid(charge);
    detail::require_number(
        "pressure", at_pressure.value() / detail::pascal_per_kilopascal, "kPa",
        {wash_vapour::pressure_range.lower / detail::pascal_per_kilopascal, wash_vapour::pressure_range.upper / detail::pascal_per_kilopascal},
        wash_vapour::from.citation);
    detail::require_number("molar mass of the extract", extract_molar_mass, "g/mol", wash_vapour::molar_mass_range, wash_vapour::extract_from.citation);
    const detail::stop_test test{stop};
    test.require(charge);
    constexpr std::size_t fewest = 2;
    constexpr std::size_t most = 100000;
    if (points < fewest || points > most) {
        throw RangeError("points of the curve " + std::to_string(points) + " must be " + std::to_string(fewest) + " to " + std::to_string(most));
    }

    const double end = detail::stop_at(detail::stripping_run(charge, at_pressure.value(), extract_molar_mass), test);
    const detail::stripping_run run(charge, at_pressure.value(), extract_molar_mass);
    Stripping out;
    out.charge = charge;
    out.pressure_kpa = at_pressure.value() / detail::pascal_per_kilopascal;
    out.curve.reserve(points);
    detail::stripping_run::state y{};
    double s = 0.0;
    double step = detail::stripping_run::first_step;
    const double evaporated = -std::expm1(-end);
    for (std::size_t i = 0; i < points; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(points - 1);
        const double next = i + 1 == points ? end : -std::log1p(-share * evaporated);
        y = run.advance(y, s, next, step);
        s = next;
        out.curve.push_back(run.at(s, y));
    }
    const StrippingPoint& last = out.curve.back();
    out.pot = run.pot(s, y);
    out.low_wines = {last.collected_kg, last.low_wines_abw, 0.0};
    out.low_wines_l = last.collected_l;
    out.low_wines_abv = last.low_wines_abv;
    out.ethanol_left_kg = out.pot.ethanol_kg();
    out.ethanol_left_l = out.pot.pure_alcohol_l();
    out.ethanol_left_share = out.ethanol_left_kg / charge.ethanol_kg();
    out.boiling_start_c = out.curve.front().head_c;
    out.boiling_end_c = last.head_c;
    return out;
}

/// The same in a still: at its pressure, and only where the charge leaves the head space that was asked for.
inline Stripping strip(const StillLiquid& charge, const StillSetup& still, const StripStop& stop, const std::size_t points = 51,
                       const double extract_molar_mass = wash_vapour::extract_molar_mass) {
    detail::require_liquid(charge);
    detail::require_setup(still);
    const double usable = still.boiler_l * (1.0 - still.head_space_share);
    constexpr double round_off = 1e-9;  // of a plan that fills the still to the mark
    if (charge.volume_l() > usable * (1.0 + round_off)) {
        detail::require_number("volume of the charge", charge.volume_l(), "L", {0.0, usable}, "the rest of the boiler is head space");
    }
    return strip(charge, still.pressure_kpa * kilopascal, stop, points, extract_molar_mass);
}

}  // namespace ferment
