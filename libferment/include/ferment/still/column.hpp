#pragma once
// A pot with a column on it: how strong the distillate comes, at which reflux, how long it takes, and what stays behind.
//
// The model, and what it leaves out:
//   - theoretical plates and a pot that counts as one more; the vapour over each is in equilibrium with its liquid (wash_vapour);
//   - constant molal overflow: in the column every mole that condenses evaporates another, so that vapour and reflux are the same moles from pot to
//     head. Molar latent heats of ethanol and water differ by 6 %, which is the error of the flows;
//   - at every moment the column is in the steady state of what is in the pot (McCabe and Thiele plate by plate, with the pot of Rayleigh under it).
//     The liquid on the plates is counted: ethanol and mass are those of pot and column together, and the plates hold what the steady state says. What
//     is left out is the time the column takes to follow: just after take-off begins the distillate is stronger than said here, because the column
//     is still full from total reflux;
//   - the condenser returns reflux at its boiling point; a charge without extract.
// All compositions of the kernels are mole fractions of the lighter component.

#include <algorithm>
#include <array>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/enthalpy.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/water.hpp>
#include <ferment/still/cautions.hpp>
#include <limits>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ferment {

inline constexpr source plate_to_plate{
    "plate_to_plate",
    "strength of the distillate of a column from that of the pot, plates and reflux [mol/mol]",
    "McCabe WL, Thiele EW, 1925. Graphical design of fractionating columns. Ind. Eng. Chem. 17, 605-611; batch form as in Coulson & Richardson, Chemical "
    "Engineering vol. 2, 5th ed. 2002, section 11.6",
    "0 to 200 theoretical plates; distillate weaker than the azeotrope",
    "flows 6 % (constant molal overflow); on the published table of the vapour a textbook run is met within 1 %, on wash_vapour its reflux is 13 % lower: a "
    "small error of the vapour grows with every plate",
    source_status::secondary,
};

inline constexpr source tangent_pinch{
    "tangent_pinch",
    "minimum reflux of a column [1]",
    "greatest slope of a line from the distillate to the equilibrium curve between pot and distillate; that this is a tangent for ethanol and water is "
    "shown in Seader, Henley & Roper, Separation Process Principles, chapter 7",
    "pot weaker than distillate, distillate weaker than the azeotrope",
    "dR = (1 + R)^2 dy/(distillate - pinch): 0.01 in the vapour, which is the doubt of wash_vapour, is 0.9 in a minimum reflux of 2",
    source_status::secondary,
};

inline constexpr source fenske_1932{
    "fenske_1932",
    "least number of theoretical stages, pot included, at constant relative volatility [1]",
    "Fenske MR, 1932. Fractionation of straight-run Pennsylvania gasoline. Ind. Eng. Chem. 24, 482-485",
    "relative volatility above one and constant; ethanol and water are far from constant (12 to 1), for them stages_at_total_reflux counts",
    "exact for its assumption",
    source_status::secondary,
};

inline constexpr source partial_condenser_source{
    "partial_condenser",
    "reflux of a partial condenser from its coolant, and how strongly the take-off answers to the coolant [1]",
    "heat balance; a condensing vapour at one temperature against a coolant that warms up: heat = flow * c * (t_vapour - t_in) * (1 - exp(-N))",
    "0 < N; coolant water, 0 to 100 degC",
    "exact for its assumptions: constant heat transfer coefficient, constant molal overflow, no heat loss of the column",
    source_status::common_practice,
};

// ---- equilibrium at one pressure ----

/// Ethanol and water at one pressure, as a table of the logarithm of the relative volatility over the mole fraction of the liquid. Between its nodes a
/// cubic with the exact slopes of wash_vapour (through the boiling point) at both ends, so that the vapour is exact at the nodes and for pure liquids;
/// elsewhere within 2e-10 mol/mol at 20 to 110 kPa, and it rises with the liquid everywhere (both tested). It is there for speed.
class wash_equilibrium {
public:
    static constexpr std::size_t cells = 512;
    static constexpr double light = stoichiometry::ethanol;  ///< g/mol
    static constexpr double heavy = stoichiometry::water;

    /// p   Pa, 20e3 to 110e3, unchecked
    explicit wash_equilibrium(const double p) : pressure_(p) {
        double guess = std::numeric_limits<double>::quiet_NaN();
        for (std::size_t i = 0; i <= cells; ++i) {
            const auto [kelvin, here] = wash_vapour::binary::boiling_near(static_cast<double>(i) * width, p, guess);
            const double by_kelvin = here.ln_one.by_t - here.ln_two.by_t;
            node_[i] = {here.ln_one.value - here.ln_two.value, here.ln_one.by_z - here.ln_two.by_z + by_kelvin * here.kelvin_by_z()};
            kelvin_[i] = {kelvin, here.kelvin_by_z()};
            guess = kelvin + width * here.kelvin_by_z();
        }
        for (std::size_t i = 0; i <= cells; ++i) vapour_[i] = vapour(static_cast<double>(i) * width).value;
        azeotrope_ = crossing();
    }

    /// Vapour over a liquid, mole fractions 0 to 1, with its slope.
    [[nodiscard]] num::value_and_slope<double> vapour(const double x) const {
        const num::value_and_slope<double> ln_alpha = between(node_, x);
        const double alpha = std::exp(ln_alpha.value);
        const double d = 1.0 / (1.0 + (alpha - 1.0) * x);
        return {alpha * x * d, alpha * (1.0 + x * (1.0 - x) * ln_alpha.slope) * d * d};
    }

    /// The liquid under a vapour: the exact inverse of vapour.
    [[nodiscard]] double liquid(const double y) const { return under(y).value; }

    /// The same with its slope in the vapour, which is good to 1e-8: for searches.
    [[nodiscard]] num::value_and_slope<double> under(const double y) const {
        const auto above = static_cast<std::size_t>(std::upper_bound(vapour_.begin(), vapour_.end(), y) - vapour_.begin());
        // One cell more on either side, so that round-off at a node does no harm.
        const double lower = static_cast<double>(above < 2 ? 0 : above - 2) * width;
        const double upper = static_cast<double>(std::min(above + 1, cells)) * width;
        double slope = std::numeric_limits<double>::quiet_NaN();
        const auto excess = [&](const double x) {
            const num::value_and_slope<double> here = vapour(x);
            slope = here.slope;
            return num::value_and_slope<double>{vle::settled(here.value - y, round_off * y), here.slope};
        };
        const std::size_t cell = std::min(above < 1 ? 0 : above - 1, cells - 1);
        const double along = (y - vapour_[cell]) / (vapour_[cell + 1] - vapour_[cell]);
        const double guess = (static_cast<double>(cell) + along) * width;
        constexpr double close = 1e-8;  // of the liquid
        const double near = vle::near_root(excess, lower, upper, guess, close * guess);
        const double x = std::isnan(near) ? num::bracketed_newton<double>(excess, lower, upper, guess) : near;
        return {x, 1.0 / slope};
    }

    /// The liquid whose vapour is no stronger; no column gets past it.
    [[nodiscard]] double azeotrope() const { return azeotrope_; }
    /// Boiling point of a liquid, degC; solved, and only looked for where the table says.
    [[nodiscard]] double boiling_c(const double x) const {
        return wash_vapour::binary::boiling_near(x, pressure_, between(kelvin_, x).value).kelvin - zero_celsius_kelvin;
    }
    [[nodiscard]] double pressure() const { return pressure_; }

private:
    static constexpr double width = 1.0 / static_cast<double>(cells);
    static constexpr double round_off = 4.0 * std::numeric_limits<double>::epsilon();

    using nodes = std::array<num::value_and_slope<double>, cells + 1>;

    [[nodiscard]] static num::value_and_slope<double> between(const nodes& node, const double x) {
        const double position = x / width;
        constexpr double last = cells - 1;
        const auto i = static_cast<std::size_t>(position > 0.0 ? std::min(position, last) : 0.0);  // NaN is in no cell, and stays NaN below
        const double s = position - static_cast<double>(i);
        const double u = 1.0 - s;
        const num::value_and_slope<double>& a = node[i];
        const num::value_and_slope<double>& b = node[i + 1];
        const double value = u * u * (1.0 + 2.0 * s) * a.value + s * s * (1.0 + 2.0 * u) * b.value + width * s * u * (u * a.slope - s * b.slope);
        const double slope = 6.0 * s * u * (b.value - a.value) / width + u * (1.0 - 3.0 * s) * a.slope + s * (1.0 - 3.0 * u) * b.slope;
        return {value, slope};
    }

    [[nodiscard]] double crossing() const {
        const auto ln_alpha = [this](const double x) {
            const num::value_and_slope<double> here = between(node_, x);
            return num::value_and_slope<double>{vle::settled(here.value, vle::round_off_fraction), here.slope};
        };
        constexpr double weakest = 0.5;  // far below any azeotrope at 20 to 110 kPa
        return num::bracketed_newton<double>(ln_alpha, weakest, 1.0, 0.5 * (weakest + 1.0));
    }

    double pressure_;
    double azeotrope_ = 1.0;
    nodes node_{};    // ln of the relative volatility
    nodes kelvin_{};  // boiling points
    std::array<double, cells + 1> vapour_{};
};

// ---- the column in its steady state ----

/// What the plates and the pot hold under a distillate. Equilibrium is wash_equilibrium or has its members: vapour, liquid, azeotrope, light, heavy.
template <class Equilibrium>
struct plate_column {
    /// Liquid in the pot, and the mean of the plates by mass, with their slopes in what the seeds of `down` stand for.
    struct liquids {
        num::value_and_slope<double> pot;         ///< mole fraction
        num::value_and_slope<double> plates_abw;  ///< mass fraction, mean of equal masses on every plate; that of the pot if there is no plate
    };

    static double molar_mass(const double x) { return x * Equilibrium::light + (1.0 - x) * Equilibrium::heavy; }  // g/mol
    static double by_mass(const double x) { return x * Equilibrium::light / molar_mass(x); }
    static double by_moles(const double w) { return w * Equilibrium::heavy / (w * Equilibrium::heavy + (1.0 - w) * Equilibrium::light); }
    static double by_mass_slope(const double x) { return Equilibrium::light * Equilibrium::heavy / (molar_mass(x) * molar_mass(x)); }

    /// The liquid under a vapour and its slope.
    static num::value_and_slope<double> under(const Equilibrium& equilibrium, const double y) {
        if constexpr (requires { equilibrium.under(y); }) {
            return equilibrium.under(y);
        } else {
            const double x = equilibrium.liquid(y);
            return {x, 1.0 / equilibrium.vapour(x).slope};
        }
    }

    /// Plate by plate from the distillate to the pot: y = r x + (1 - r) head, x = liquid(y).
    ///   head     mole fraction of the distillate, 0 to that of the azeotrope
    ///   r        reflux over vapour by moles, 0 (no reflux) to 1 (no take-off)
    ///   plates   theoretical plates above the pot
    ///   by_head, by_r   seeds: what a change of the unknown does to head and to r
    static liquids down(const Equilibrium& equilibrium, const double head, const double r, const int plates, const double by_head = 0.0,
                        const double by_r = 0.0) {
        double y = head;
        double dy = by_head;
        num::value_and_slope<double> sum{0.0, 0.0};
        for (int k = 0; k < plates; ++k) {
            const auto [x, by_y] = under(equilibrium, y);
            const double dx = dy * by_y;
            sum.value += by_mass(x);
            sum.slope += by_mass_slope(x) * dx;
            y = r * x + (1.0 - r) * head;
            dy = r * dx + by_r * (x - head) + (1.0 - r) * by_head;
        }
        const auto [x, by_y] = under(equilibrium, y);
        const double dx = dy * by_y;
        if (plates == 0) return {{x, dx}, {by_mass(x), by_mass_slope(x) * dx}};
        return {{x, dx}, {sum.value / plates, sum.slope / plates}};
    }

    /// Pot and column together.
    struct contents {
        double mass;     ///< kg
        double ethanol;  ///< kg of the lighter component
        double hold_up;  ///< kg on the plates, less than mass
    };

    /// A steady state.
    struct state {
        double head;           ///< mole fraction of the distillate
        double r;              ///< reflux over vapour
        double pot;            ///< mole fraction in the pot
        double hold_up_light;  ///< kg of the lighter component on the plates
        [[nodiscard]] double reflux() const { return r / (1.0 - r); }
    };

    static constexpr double round_off = 1e-13;
    static constexpr double farthest = 30.0;  // logit of head over azeotrope: 1e-13 from the azeotrope
    static constexpr double weakest = -40.0;  // and 4e-18 of it

    static double logit(const double share) {
        // Where a pot is at the azeotrope to round-off the difference may be nothing or less.
        return std::log(share / std::max(1.0 - share, std::numeric_limits<double>::min()));
    }

    /// What pot and column hold beyond the contents, as a difference of logits of the share of what they hold at the azeotrope: nearly straight at both
    /// ends, and rising with the distillate, falling with the reflux.
    static num::value_and_slope<double> surplus(const Equilibrium& equilibrium, const contents& in, const liquids& found) {
        const double in_pot = in.mass - in.hold_up;
        const double most = by_mass(equilibrium.azeotrope()) * in.mass;
        const double share = (by_mass(found.pot.value) * in_pot + in.hold_up * found.plates_abw.value) / most;
        const double slope = (by_mass_slope(found.pot.value) * found.pot.slope * in_pot + in.hold_up * found.plates_abw.slope) / most;
        const double rest = std::max(1.0 - share, std::numeric_limits<double>::min());
        return {vle::settled(logit(share) - logit(in.ethanol / most), round_off), slope / (share * rest)};
    }

    /// From near the state a moment before; searched where that is not near enough.
    template <class F>
    static double root(const F& excess, const double lower, const double upper, const double start) {
        constexpr double close = 1e-8;
        const double near = vle::near_root(excess, lower, upper, start, close);
        return std::isnan(near) ? num::bracketed_newton<double>(excess, lower, upper, start) : near;
    }

    static state as_state(const contents& in, const double head, const double r, const liquids& found) {
        return {head, r, found.pot.value, in.hold_up * found.plates_abw.value};
    }

    /// The steady state at a reflux.
    ///   start   a guess of the distillate, mole fraction
    static state at_reflux(const Equilibrium& equilibrium, const contents& in, const double r, const int plates, const double start) {
        const double top = equilibrium.azeotrope();
        if (plates == 0 && in.hold_up == 0.0) {  // the pot is known, and its vapour is the distillate
            const double pot = by_moles(in.ethanol / in.mass);
            const double head = equilibrium.vapour(pot).value;
            const double v = logit(head / top);
            if (v >= weakest && v <= farthest) return {head, r, pot, 0.0};
        }
        const auto head_of = [&](const double v) { return top / (1.0 + std::exp(-v)); };
        const auto excess = [&](const double v) {
            const double head = head_of(v);
            return surplus(equilibrium, in, down(equilibrium, head, r, plates, head * (1.0 - head / top), 0.0));
        };
        const double v = root(excess, weakest, farthest, logit(start / top));
        const double head = head_of(v);
        return as_state(in, head, r, down(equilibrium, head, r, plates));
    }

    /// The steady state at a strength of the distillate; NaN where neither no reflux nor total reflux, nor any between them, gives it.
    static state at_head(const Equilibrium& equilibrium, const contents& in, const double head, const int plates, const double start) {
        const auto excess = [&](const double r) { return surplus(equilibrium, in, down(equilibrium, head, r, plates, 0.0, 1.0)); };
        const double r = root(excess, 0.0, 1.0, start);
        return as_state(in, head, r, down(equilibrium, head, r, plates));
    }
};

/// A minimum reflux and where it is set.
struct MinimumReflux {
    double reflux;  ///< below it no number of plates gives the distillate from the pot; 0 where the pot alone gives it
    double pinch;   ///< liquid, mole fraction, at which the plates crowd
    bool tangent;   ///< whether the operating line touches the curve from below above the pot, rather than meeting it at the pot
};

/// The least reflux at which infinitely many plates give a distillate from a pot; mole fractions, 0 < pot < distillate < azeotrope, unchecked.
template <class Equilibrium>
MinimumReflux minimum_reflux_by_moles(const Equilibrium& equilibrium, const double pot, const double head) {
    const auto slope = [&](const double x) { return (head - equilibrium.vapour(x).value) / (head - x); };
    constexpr int samples = 400;  // the curve has one inflection; this only brackets its touching point
    const double step = (head - pot) / samples;
    int best = 0;
    for (int i = 1; i < samples; ++i) {
        if (slope(pot + i * step) > slope(pot + best * step)) best = i;
    }
    double at = pot;
    if (best > 0) {
        // Greatest slope where it does not change with x; golden section needs no second derivative.
        constexpr double golden = 0.6180339887498949;
        constexpr int halvings = 80;
        double lower = pot + (best - 1) * step;
        double upper = pot + std::min(best + 1, samples - 1) * step;
        for (int i = 0; i < halvings; ++i) {
            const double a = upper - golden * (upper - lower);
            const double b = lower + golden * (upper - lower);
            (slope(a) > slope(b) ? upper : lower) = slope(a) > slope(b) ? b : a;
        }
        at = 0.5 * (lower + upper);
    }
    const double r = slope(at);
    return {r > 0.0 ? r / (1.0 - r) : 0.0, at, best > 0};
}

/// Stages, pot included, between two liquids at constant relative volatility and total reflux. Source: fenske_1932.
///   head, pot   mole fractions, 0 < pot < head < 1
///   alpha       relative volatility, above 1
///   ->          NaN outside or for NaN
template <class T>
T fenske_stages(const T& head, const T& pot, const T& alpha) {
    using std::log;
    const auto valid = num::mask<T>(pot > 0.0 && head > pot && head < 1.0 && alpha > 1.0);
    return num::keep_if(valid, T(log(T(head * (1.0 - pot) / (pot * (1.0 - head)))) / log(alpha)));
}

/// The same counted on the equilibrium; the last, broken stage by the relative volatility of that stage. Mole fractions, pot < head < azeotrope, unchecked.
template <class Equilibrium>
double total_reflux_stages(const Equilibrium& equilibrium, const double pot, const double head) {
    double y = head;
    int whole = 0;
    if (!(pot > 0.0)) return std::numeric_limits<double>::quiet_NaN();  // no end of stages leads there
    for (double x = equilibrium.liquid(y); x > pot; x = equilibrium.liquid(y)) {
        if (!(x < y)) return std::numeric_limits<double>::quiet_NaN();  // nor from the azeotrope down
        y = x;
        ++whole;
    }
    const double x = equilibrium.liquid(y);
    const double alpha = y * (1.0 - x) / (x * (1.0 - y));
    return y > pot ? whole + fenske_stages(y, pot, alpha) : whole;
}

// ---- the two ways of setting the reflux ----

/// A partial condenser (dephlegmator) on top of the column and what comes of its coolant.
struct PartialCondenser {
    double coolant_l_per_h = 0.0;  ///< water
    double inlet_c = 0.0;
    double outlet_c = 0.0;
    double vapour_c = 0.0;  ///< head temperature
};

/// What a setting of the reflux does.
struct RefluxSetting {
    double reflux;                ///< returned over taken off, by moles
    double take_off_per_coolant;  ///< relative change of the take-off per relative change of the coolant flow
    double take_off_per_power;    ///< relative change of the take-off per relative change of the heating power
    double condenser_kw;          ///< heat taken by the partial condenser; 0 for a valve
};

namespace detail {

inline void require_finite_at_least(const std::string_view name, const double x, const std::string_view unit, const double least, const bool itself = true) {
    if (!std::isfinite(x)) throw InputError(std::string(name) + " must be a finite number" + (unit.empty() ? "" : " of " + std::string(unit)));
    if (x < least || (!itself && x == least)) {
        throw RangeError(std::string(name) + " " + format_quantity(x, unit) + " must be " + (itself ? "at least " : "more than ") +
                         format_quantity(least, unit));
    }
    require_inside(name, x, unit, {-std::numeric_limits<double>::infinity(), workable_amount.upper}, "amounts that can be reckoned with");
}

/// Units of a run.
struct column_units {
    static constexpr double seconds_per_hour = 3600.0;
    static constexpr double watts_per_kilowatt = 1e3;
    static constexpr double grams_per_kilogram = 1e3;
    static constexpr double litres_in_cubic_metre = 1e3;

    /// Litres at 20 degC of a spirit.
    static double litres(const double kilograms, const double w) { return kilograms * litres_in_cubic_metre / volume_at_20c::density(w); }
};

}  // namespace detail

/// The reflux that a partial condenser gives, and how nervous it is.
///   condenser   measured: coolant L/h > 0; inlet 0 degC or more, below outlet, below vapour, which is at most 100 degC
///   power_kw    heat that rises with the vapour: heating less losses, kW, more than the condenser takes
///   ->          With Q = heat of the coolant and N = -ln(1 - (out - in)/(vapour - in)): reflux = Q/(power - Q);
///               d ln(take-off)/d ln(coolant) = -reflux (1 - N/(e^N - 1)); d ln(take-off)/d ln(power) = 1 + reflux.
///               A condenser that also enriches is worth up to one plate more; count it among the plates.
/// Throws InputError, RangeError. Source: partial_condenser_source.
inline RefluxSetting reflux_of_partial_condenser(const PartialCondenser& condenser, const double power_kw) {
    using units = detail::column_units;
    detail::require_finite_at_least("heating power", power_kw, "kW", 0.0, false);
    detail::require_finite_at_least("coolant flow", condenser.coolant_l_per_h, "L/h", 0.0, false);
    for (const auto& [name, t] : {std::pair{"coolant inlet", condenser.inlet_c}, {"coolant outlet", condenser.outlet_c}, {"vapour", condenser.vapour_c}}) {
        if (!std::isfinite(t)) throw InputError(std::string(name) + " temperature must be a finite number of degC");
    }
    constexpr double boiling_water = 100.0;
    require_inside("vapour temperature", condenser.vapour_c, "degC", {0.0, boiling_water}, partial_condenser_source);
    require_inside("coolant inlet temperature", condenser.inlet_c, "degC", {0.0, condenser.vapour_c}, "colder than the vapour");
    require_inside("coolant outlet temperature", condenser.outlet_c, "degC", {condenser.inlet_c, condenser.vapour_c}, "between inlet and vapour");
    const double rise = (condenser.outlet_c - condenser.inlet_c) / (condenser.vapour_c - condenser.inlet_c);
    if (!(rise > 0.0 && rise < 1.0)) {
        throw InputError("coolant outlet " + format_quantity(condenser.outlet_c, "degC") + " must lie between inlet and vapour, and at neither");
    }
    const double per_kilogram = spirit_heat::liquid_enthalpy(0.0, condenser.outlet_c) - spirit_heat::liquid_enthalpy(0.0, condenser.inlet_c);
    const double kg_per_s = condenser.coolant_l_per_h * volume_at_20c::density(0.0) / units::litres_in_cubic_metre / units::seconds_per_hour;  // metered cold
    const double heat_kw = kg_per_s * per_kilogram / units::watts_per_kilowatt;
    if (!(heat_kw < power_kw)) {
        throw RangeError("heat of the coolant " + format_quantity(heat_kw, "kW") + " must be less than the heating power, " + format_quantity(power_kw, "kW") +
                         ": nothing would be taken off");
    }
    const double reflux = heat_kw / (power_kw - heat_kw);
    const double transfer = -std::log(1.0 - rise);  // N
    return {reflux, -reflux * (1.0 - (transfer == 0.0 ? 1.0 : transfer / std::expm1(transfer))), 1.0 + reflux, heat_kw};
}

/// The reflux of a valve under a total condenser that lets a share of the condensate out (a divider, or a timer: share of the time open).
///   share   more than 0, at most 1
///   ->      reflux = (1 - share)/share; the take-off does not answer to the coolant as long as all vapour condenses, and follows the power one to one
/// Throws RangeError.
inline RefluxSetting reflux_of_divider(const double share) {
    detail::require_finite_at_least("share taken off", detail::percent * share, "%", 0.0, false);
    require_inside("share taken off", detail::percent * share, "%", detail::percent_range, "share of the condensate");
    return {(1.0 - share) / share, 0.0, 1.0, 0.0};
}

// ---- a run ----

/// What is charged: ethanol and water.
struct ColumnCharge {
    double mass_kg = 0.0;
    double abw = 0.0;
};

/// The column.
struct Column {
    int plates = 0;           ///< theoretical, above the pot; plates_of_packing gives them for a packing
    double hold_up_kg = 0.0;  ///< liquid on the plates while running, shared equally among them; runs back at the end
};

/// Heat and pressure of a run.
struct ColumnHeat {
    double heating_kw = 0.0;       ///< into the pot
    double loss_kw = 0.0;          ///< of pot and column
    double equilibration_h = 0.0;  ///< time at total reflux before take-off
};

enum class take_off_mode { constant_reflux, constant_strength, constant_rate };

/// How the distillate is taken off.
struct TakeOff {
    take_off_mode mode = take_off_mode::constant_reflux;
    double reflux = 0.0;      ///< of constant_reflux; returned over taken off, by moles
    double abv = 0.0;         ///< of constant_strength, fraction at 20 degC
    double max_reflux = 0.0;  ///< of constant_strength: where it ends
    double l_per_h = 0.0;     ///< of constant_rate, litres at 20 degC

    static TakeOff at_reflux(const double ratio) {
        TakeOff t;
        t.reflux = ratio;
        return t;
    }
    static TakeOff at_strength(const double fraction, const double highest_reflux) {
        TakeOff t;
        t.mode = take_off_mode::constant_strength;
        t.abv = fraction;
        t.max_reflux = highest_reflux;
        return t;
    }
    static TakeOff at_rate(const double litres_per_hour) {
        TakeOff t;
        t.mode = take_off_mode::constant_rate;
        t.l_per_h = litres_per_hour;
        return t;
    }
};

/// When to stop: at the first that comes true; NaN is not asked for.
struct ColumnStop {
    double distillate_abv = std::numeric_limits<double>::quiet_NaN();   ///< the drop falls to this, fraction
    double pot_abv = std::numeric_limits<double>::quiet_NaN();          ///< the pot falls to this, fraction
    double collected_l = std::numeric_limits<double>::quiet_NaN();      ///< litres at 20 degC
    double recovered_share = std::numeric_limits<double>::quiet_NaN();  ///< of the ethanol of the charge, fraction
    double rate_l_per_h = std::numeric_limits<double>::quiet_NaN();     ///< the take-off falls to this
};

enum class stop_reason { distillate_strength, pot_strength, collected_volume, recovered_share, take_off_rate, reflux_limit, no_reflux_left };

constexpr std::string_view to_string(const stop_reason r) {
    switch (r) {
        case stop_reason::distillate_strength: return "the distillate fell to its strength";
        case stop_reason::pot_strength: return "the pot fell to its strength";
        case stop_reason::collected_volume: return "the volume is collected";
        case stop_reason::recovered_share: return "the share of the alcohol is recovered";
        case stop_reason::take_off_rate: return "the take-off fell to its rate";
        case stop_reason::reflux_limit: return "the reflux reached its maximum";
        case stop_reason::no_reflux_left: return "the rate takes all that boils up";
    }
    return "unknown";
}

/// A moment of a run.
struct ColumnPoint {
    double collected_kg;
    double collected_l;  ///< at 20 degC, all that was collected as one liquid
    double abv;          ///< of the drop, fraction
    double abw;
    double collected_abv;  ///< of all collected; of the first drop at the start
    double collected_abw;
    double head_c;  ///< dew point of the vapour at the head
    double pot_abv;
    double pot_abw;
    double pot_kg;  ///< without the liquid on the plates
    double pot_c;
    double hold_up_abw;  ///< mean of the plates
    double reflux;
    double take_off_l_per_h;
    double boil_up_kg_per_h;  ///< vapour at the head
    double condenser_kw;      ///< to condense it all
    double time_h;            ///< from the start of equilibration
    double energy_kwh;        ///< heating over that time; warming up comes before it
};

/// Liquid on the plates, and the pot under it.
struct ColumnHoldUp {
    double mass_kg;
    double ethanol_kg;
    double abw;
    double share_of_ethanol;  ///< of the charge
    double pot_abw;
    double head_abw;  ///< distillate of that state
};

/// A run from charge to residue.
struct ColumnRun {
    std::vector<ColumnPoint> points;
    stop_reason reason;
    ColumnHoldUp equilibrated;  ///< at total reflux, before the first drop is taken
    ColumnHoldUp at_end;        ///< when take-off stops, before it runs back
    double distillate_kg;
    double distillate_ethanol_kg;
    double distillate_l;
    double distillate_abv;
    double residue_kg;  ///< pot and what runs back from the plates
    double residue_ethanol_kg;
    double residue_abw;
    double recovered_share;
    double time_h;
    double energy_kwh;
    std::string_view cautions = still_cautions;
};

namespace detail {

/// A run, with any equilibrium; see rectify.
template <class Equilibrium>
class column_run {
public:
    using column = plate_column<Equilibrium>;
    using units = column_units;

    column_run(const Equilibrium& equilibrium, const ColumnCharge& charge, const Column& plates, const ColumnHeat& heat, const TakeOff& take_off,
               const ColumnStop& stop)
        : equilibrium_(equilibrium), charge_(charge), column_(plates), heat_(heat), take_off_(take_off), stop_(stop) {
        guess_ = {equilibrium.vapour(column::by_moles(charge.abw)).value, 0.5, 0.0, 0.0};
        if (take_off.mode == take_off_mode::constant_strength) head_ = column::by_moles(volume_at_20c::to_abw(take_off.abv));
    }

    ColumnRun run(const int points) {
        ColumnRun out{};
        out.equilibrated = hold_up(column::at_reflux(equilibrium_, contents({0.0, 0.0, 0.0}), 1.0, column_.plates, guess_.head));
        most_ = dry_point();
        if (take_off_.mode == take_off_mode::constant_strength) most_ = std::min(most_, reflux_limit());
        progress now{0.0, 0.0, heat_.equilibration_h};
        const moment first = at_the_start(now);
        for (const stop_reason reason : asked()) {
            if (!(ahead(reason, now, first) > 0.0))
                throw InputError("the run would stop before it starts: at the first drop " + std::string(to_string(reason)));
        }
        const progress end = to_the_end(now, out.reason);
        out.points.push_back(point(now, first));
        for (int i = 1; i < points; ++i) {
            now = i + 1 < points ? advance(now, end.collected * i / (points - 1)) : advance(now, end.collected);
            out.points.push_back(point(now, at(now)));
        }
        finish(out, now);
        return out;
    }

private:
    /// How far a run has come: kg collected, kg of ethanol in it, hours.
    struct progress {
        double collected;
        double ethanol;
        double hours;
    };
    struct moment {
        typename column::state state;
        double boil_up;  // mol/h
        double head_abw;
        double kg_per_hour;  // taken off
    };

    // Of the run; a step that misses it is halved. Ethanol is relative to the charge, time to the time so far and one step.
    static constexpr double tolerance = 1e-10;
    static constexpr double dry_share = 0.02;  // of the charge left in the pot: the heating would be laid bare
    static constexpr int longest_steps = 50;   // a run takes at least that many
    static constexpr int most_halvings = 40;
    static constexpr std::uintmax_t most_evaluations = 100;  // of the search for the end; about ten are enough
    static constexpr double nearest = 1e-8;                  // to the end of what a rate allows, of what can be collected

    typename column::contents contents(const progress& p) const {
        return {charge_.mass_kg - p.collected, charge_.mass_kg * charge_.abw - p.ethanol, column_.hold_up_kg};
    }
    double dry_point() const { return charge_.mass_kg * (1.0 - dry_share) - column_.hold_up_kg; }

    /// Moles of vapour per hour: power over the latent heat of the vapour that leaves the pot.
    double boil_up(const double pot) const {
        const double y = equilibrium_.vapour(pot).value;
        const double per_kilogram = spirit_heat::latent_heat(column::by_mass(y), equilibrium_.boiling_c(pot));
        const double per_mole = per_kilogram * column::molar_mass(y) / units::grams_per_kilogram;
        return (heat_.heating_kw - heat_.loss_kw) * units::watts_per_kilowatt * units::seconds_per_hour / per_mole;
    }

    /// Collected at which the reflux of a constant strength reaches its maximum: the pot and the plates are then known, and the balance is linear.
    double reflux_limit() const {
        const double r = take_off_.max_reflux / (1.0 + take_off_.max_reflux);
        const auto last = column::down(equilibrium_, head_, r, column_.plates);
        const double w = column::by_mass(last.pot.value);
        const double held = column_.hold_up_kg * last.plates_abw.value + w * (charge_.mass_kg - column_.hold_up_kg);
        const double collected = (charge_.mass_kg * charge_.abw - held) / (column::by_mass(head_) - w);
        if (!(collected > 0.0)) {
            throw SolveError("a distillate of " + format_quantity(percent * take_off_.abv, "% vol") + " cannot be had from this charge with " +
                             std::to_string(column_.plates) + (column_.plates == 1 ? " plate" : " plates") + " at the maximum reflux of " +
                             format_number(take_off_.max_reflux));
        }
        return collected;
    }

    moment at(const progress& p) {
        const typename column::contents in = contents(p);
        moment m{};
        switch (take_off_.mode) {
            case take_off_mode::constant_reflux:
                m.state = column::at_reflux(equilibrium_, in, take_off_.reflux / (1.0 + take_off_.reflux), column_.plates, guess_.head);
                break;
            case take_off_mode::constant_strength: m.state = column::at_head(equilibrium_, in, head_, column_.plates, guess_.r); break;
            case take_off_mode::constant_rate: m.state = at_rate(in); break;
        }
        if (!std::isfinite(m.state.head) || !std::isfinite(m.state.r) || !std::isfinite(m.state.pot)) refuse(in);
        guess_ = m.state;
        m.boil_up = boil_up(m.state.pot);
        m.head_abw = column::by_mass(m.state.head);
        m.kg_per_hour = m.boil_up * (1.0 - m.state.r) * column::molar_mass(m.state.head) / units::grams_per_kilogram;
        return m;
    }

    moment at_the_start(const progress& p) {
        try {
            return at(p);
        } catch (const all_taken& boiled) {
            throw RangeError(boiled.what());
        }
    }

    [[noreturn]] void refuse(const typename column::contents& in) const {
        if (take_off_.mode == take_off_mode::constant_strength) {
            throw RangeError("distillate " + format_quantity(percent * take_off_.abv, "% vol") + " is weaker than what the pot of " +
                             format_quantity(percent * volume_at_20c::from_abw(in.ethanol / in.mass), "% vol") + " gives without any reflux");
        }
        throw too_far("no steady state of the column was found with " + format_quantity(in.ethanol, "kg") + " of ethanol in " + format_quantity(in.mass, "kg"));
    }

    /// Reflux over vapour that leaves the take-off: found by secants, because strength and boil-up depend on it a little.
    typename column::state at_rate(const typename column::contents& in) const {
        typename column::state s = guess_;
        const auto left = [&](const double r) {
            s = column::at_reflux(equilibrium_, in, r, column_.plates, s.head);
            const double taken = take_off_.l_per_h * volume_at_20c::density(column::by_mass(s.head)) / column::molar_mass(s.head);  // g/L is kg/m3
            const double share = taken / boil_up(s.pot);
            if (!(share < 1.0)) throw all_taken(take_off_.l_per_h, take_off_.l_per_h / share);
            return 1.0 - share;
        };
        constexpr int iterations = 60;
        constexpr double resolution = 1e-13;
        double before = guess_.r;
        double r = left(before);
        double miss_before = r - before;
        for (int i = 0; i < iterations; ++i) {
            const double miss = left(r) - r;
            if (std::abs(miss) <= resolution) return s;
            const double secant = r - miss * (r - before) / (miss - miss_before);
            before = r;
            miss_before = miss;
            r = secant > 0.0 && secant < 1.0 ? secant : r + miss;
        }
        throw SolveError("no reflux was found that leaves a take-off of " + format_quantity(take_off_.l_per_h, "L/h"));
    }

    /// Thrown where a trial step leaves what is possible; caught here.
    struct too_far : SolveError {
        using SolveError::SolveError;
    };
    /// The same where a rate asks for more than boils up.
    struct all_taken : too_far {
        all_taken(const double asked, const double boils_up)
            : too_far("take-off " + format_quantity(asked, "L/h") + " is not below what boils up, " + format_quantity(boils_up, "L/h") +
                      " of the same strength") {}
    };

    struct rates {
        double ethanol;  // per kg collected
        double hours;
    };
    rates slope(const progress& p) {
        const moment m = at(p);
        return {m.head_abw, 1.0 / m.kg_per_hour};
    }

    /// One step of the classical fourth-order method, with the slope at its beginning.
    progress runge_kutta(const progress& p, const rates& a, const double h) {
        const auto moved = [&](const rates& k, const double by) { return progress{p.collected + by, p.ethanol + by * k.ethanol, p.hours + by * k.hours}; };
        const rates b = slope(moved(a, 0.5 * h));
        const rates c = slope(moved(b, 0.5 * h));
        const rates d = slope(moved(c, h));
        constexpr double sixth = 1.0 / 6.0;
        return {p.collected + h, p.ethanol + h * sixth * (a.ethanol + 2.0 * (b.ethanol + c.ethanol) + d.ethanol),
                p.hours + h * sixth * (a.hours + 2.0 * (b.hours + c.hours) + d.hours)};
    }

    struct doubled {
        progress to;
        double error;  // relative to tolerance
    };
    /// One step against two of half its length; the result is the better one, with what the comparison adds.
    doubled step(const progress& p, const double h) {
        constexpr double fifth_order = 15.0;
        const rates first = slope(p);
        const progress whole = runge_kutta(p, first, h);
        const progress middle = runge_kutta(p, first, 0.5 * h);
        const progress half = runge_kutta(middle, slope(middle), 0.5 * h);
        const double ethanol = (half.ethanol - whole.ethanol) / fifth_order;
        const double hours = (half.hours - whole.hours) / fifth_order;
        const double of_ethanol = std::abs(ethanol) / (charge_.mass_kg * charge_.abw);
        const double of_time = std::abs(hours) / std::abs(half.hours);
        return {{p.collected + h, half.ethanol + ethanol, half.hours + hours}, std::max(of_ethanol, of_time) / tolerance};
    }

    /// A step that is good enough, no longer than `longest`; sets the length of the next.
    progress accepted(const progress& p, const double longest) {
        if (length_ <= 0.0) length_ = most_ / longest_steps;
        for (int i = 0; i < most_halvings; ++i) {
            const double h = std::min(length_, longest);
            try {
                const doubled found = step(p, h);
                if (found.error <= 1.0) {
                    constexpr double easily = 1.0 / 64.0;
                    if (found.error < easily && h >= length_) length_ = std::min(2.0 * length_, most_ / longest_steps);
                    return found.to;
                }
            } catch (const too_far&) {  // more than there is, or than the rate allows: come closer to it
                if (h < nearest * most_) throw;
            }
            length_ = 0.5 * h;
        }
        throw SolveError("the run changes too fast to be followed at " + format_quantity(p.collected, "kg") + " collected");
    }

    progress advance(progress p, const double collected) {
        while (p.collected < collected) {
            const double left = collected - p.collected;
            p = accepted(p, left);
            if (collected - p.collected <= std::numeric_limits<double>::epsilon() * collected) break;
        }
        return p;
    }

    std::vector<stop_reason> asked() const {
        std::vector<stop_reason> all;
        if (!std::isnan(stop_.distillate_abv)) all.push_back(stop_reason::distillate_strength);
        if (!std::isnan(stop_.pot_abv)) all.push_back(stop_reason::pot_strength);
        if (!std::isnan(stop_.collected_l)) all.push_back(stop_reason::collected_volume);
        if (!std::isnan(stop_.recovered_share)) all.push_back(stop_reason::recovered_share);
        if (!std::isnan(stop_.rate_l_per_h)) all.push_back(stop_reason::take_off_rate);
        return all;
    }

    /// What is left until a condition comes true: positive before it.
    double ahead(const stop_reason reason, const progress& p, const moment& m) const {
        switch (reason) {
            case stop_reason::distillate_strength: return volume_at_20c::from_abw(m.head_abw) - stop_.distillate_abv;
            case stop_reason::pot_strength: return volume_at_20c::from_abw(column::by_mass(m.state.pot)) - stop_.pot_abv;
            case stop_reason::collected_volume: return stop_.collected_l - (p.collected > 0.0 ? units::litres(p.collected, p.ethanol / p.collected) : 0.0);
            case stop_reason::recovered_share: return stop_.recovered_share - p.ethanol / (charge_.mass_kg * charge_.abw);
            case stop_reason::take_off_rate: return units::litres(m.kg_per_hour, m.head_abw) - stop_.rate_l_per_h;
            case stop_reason::reflux_limit:
            case stop_reason::no_reflux_left: break;  // not asked for
        }
        return std::numeric_limits<double>::quiet_NaN();
    }

    progress to_the_end(progress p, stop_reason& reason) {
        const std::vector<stop_reason> conditions = asked();
        const auto passed = [&](const progress& q, stop_reason& which) {
            const moment m = at(q);
            for (const stop_reason r : conditions) {
                if (!(ahead(r, q, m) > 0.0)) {
                    which = r;
                    return true;
                }
            }
            return false;
        };
        // What is left until the first of the conditions comes true.
        const auto least_ahead = [&](const progress& q) {
            const moment m = at(q);
            double least = std::numeric_limits<double>::infinity();
            for (const stop_reason r : conditions) least = std::min(least, ahead(r, q, m));
            return least;
        };
        while (most_ - p.collected > std::numeric_limits<double>::epsilon() * most_) {
            progress next{};
            try {
                next = accepted(p, most_ - p.collected);
            } catch (const all_taken&) {
                reason = stop_reason::no_reflux_left;
                return p;
            }
            if (passed(next, reason)) {
                const double after = next.collected - p.collected;
                std::uintmax_t evaluations = most_evaluations;
                const auto left = [&](const double h) { return least_ahead(step(p, h).to); };
                const auto [before, behind] = boost::math::tools::toms748_solve(left, 0.0, after, least_ahead(p), least_ahead(next),
                                                                                boost::math::tools::eps_tolerance<double>(), evaluations);
                static_cast<void>(before);
                const progress end = behind == after ? next : step(p, behind).to;
                passed(end, reason);
                return end;
            }
            p = next;
        }
        if (take_off_.mode == take_off_mode::constant_strength && most_ < dry_point()) {
            reason = stop_reason::reflux_limit;
            return p;
        }
        throw SolveError("no stop condition came true before the pot was down to " + format_quantity(percent * dry_share, "%") + " of the charge, after " +
                         format_quantity(p.collected, "kg") + " of distillate");
    }

    ColumnHoldUp hold_up(const typename column::state& s) const {
        const double kg = column_.hold_up_kg;
        return {kg,
                s.hold_up_light,
                kg > 0.0 ? s.hold_up_light / kg : std::numeric_limits<double>::quiet_NaN(),
                s.hold_up_light / (charge_.mass_kg * charge_.abw),
                column::by_mass(s.pot),
                column::by_mass(s.head)};
    }

    ColumnPoint point(const progress& p, const moment& m) const {
        ColumnPoint c{};
        c.collected_kg = p.collected;
        c.abw = m.head_abw;
        c.abv = volume_at_20c::from_abw(c.abw);
        c.collected_abw = p.collected > 0.0 ? p.ethanol / p.collected : c.abw;
        c.collected_abv = volume_at_20c::from_abw(c.collected_abw);
        c.collected_l = units::litres(p.collected, c.collected_abw);
        c.head_c = equilibrium_.boiling_c(equilibrium_.liquid(m.state.head));
        c.pot_abw = column::by_mass(m.state.pot);
        c.pot_abv = volume_at_20c::from_abw(c.pot_abw);
        c.pot_kg = charge_.mass_kg - p.collected - column_.hold_up_kg;
        c.pot_c = equilibrium_.boiling_c(m.state.pot);
        c.hold_up_abw = hold_up(m.state).abw;
        c.reflux = m.state.reflux();
        c.take_off_l_per_h = units::litres(m.kg_per_hour, c.abw);
        c.boil_up_kg_per_h = m.boil_up * column::molar_mass(m.state.head) / units::grams_per_kilogram;
        c.condenser_kw = c.boil_up_kg_per_h * spirit_heat::latent_heat(c.abw, c.head_c) / units::seconds_per_hour / units::watts_per_kilowatt;
        c.time_h = p.hours;
        c.energy_kwh = p.hours * heat_.heating_kw;
        return c;
    }

    void finish(ColumnRun& out, const progress& p) {
        const typename column::contents in = contents(p);
        const double charged = charge_.mass_kg * charge_.abw;
        out.at_end = hold_up(at(p).state);
        out.distillate_kg = p.collected;
        out.distillate_ethanol_kg = p.ethanol;
        const double w = p.ethanol / p.collected;
        out.distillate_l = units::litres(p.collected, w);
        out.distillate_abv = volume_at_20c::from_abw(w);
        // Pot and plates from the steady state, not from the balance, so that the two can be compared.
        const double pot_kg = in.mass - in.hold_up;
        out.residue_kg = pot_kg + in.hold_up;
        out.residue_ethanol_kg = out.at_end.pot_abw * pot_kg + out.at_end.ethanol_kg;
        out.residue_abw = out.residue_ethanol_kg / out.residue_kg;
        out.recovered_share = p.ethanol / charged;
        out.time_h = p.hours;
        out.energy_kwh = p.hours * heat_.heating_kw;
    }

    const Equilibrium& equilibrium_;
    ColumnCharge charge_;
    Column column_;
    ColumnHeat heat_;
    TakeOff take_off_;
    ColumnStop stop_;
    double head_ = std::numeric_limits<double>::quiet_NaN();
    double most_ = 0.0;    // kg that can be collected at all
    double length_ = 0.0;  // of the next step, kg
    typename column::state guess_{};
};

inline wash_equilibrium equilibrium_at(const pressure<>& at_pressure) {
    if (std::isnan(at_pressure.value())) throw InputError("pressure is not a number; it must be 20 to 110 kPa");
    require_boiling_pressure(at_pressure.value());
    return wash_equilibrium(at_pressure.value());
}

inline void require_below_azeotrope(const std::string_view what, const double x, const double azeotrope, const double p) {
    if (!(x < azeotrope)) {
        const auto by_volume = [](const double moles) {
            return format_quantity(percent * volume_at_20c::from_abw(wash_vapour::raw_mass_fraction(moles)), "% vol");
        };
        throw RangeError(std::string(what) + " " + by_volume(x) + " is not below the azeotrope, " + by_volume(azeotrope) + " at " +
                         format_quantity(p / pascal_per_kilopascal, "kPa") + ": no column gets past it");
    }
}

inline constexpr int most_plates = 200;

inline void require_column_run(const ColumnCharge& charge, const Column& column, const ColumnHeat& heat, const TakeOff& take_off, const ColumnStop& stop,
                               const int points) {
    require_finite_at_least("mass of the charge", charge.mass_kg, "kg", 0.0, false);
    require_finite_at_least("abw of the charge", percent * charge.abw, "% mass", 0.0, false);
    require_fraction("abw of the charge", charge.abw, "% mass", {0.0, 1.0}, plate_to_plate);
    require_inside("plates", column.plates, "", {0.0, most_plates}, plate_to_plate);
    require_finite_at_least("hold-up", column.hold_up_kg, "kg", 0.0);
    if (column.plates == 0 && column.hold_up_kg > 0.0) throw InputError("a still without plates has no hold-up");
    if (!(column.hold_up_kg < charge.mass_kg)) {
        throw RangeError("hold-up " + format_quantity(column.hold_up_kg, "kg") + " must be less than the charge, " + format_quantity(charge.mass_kg, "kg"));
    }
    require_finite_at_least("heating power", heat.heating_kw, "kW", 0.0, false);
    require_finite_at_least("heat loss", heat.loss_kw, "kW", 0.0);
    if (!(heat.loss_kw < heat.heating_kw)) {
        throw RangeError("heat loss " + format_quantity(heat.loss_kw, "kW") + " must be less than the heating power, " +
                         format_quantity(heat.heating_kw, "kW"));
    }
    require_finite_at_least("time of equilibration", heat.equilibration_h, "h", 0.0);
    switch (take_off.mode) {
        case take_off_mode::constant_reflux: require_finite_at_least("reflux ratio", take_off.reflux, "", 0.0); break;
        case take_off_mode::constant_strength:
            require_finite_at_least("abv of the distillate", percent * take_off.abv, "% vol", 0.0, false);
            require_fraction("abv of the distillate", take_off.abv, "% vol", {0.0, 1.0}, plate_to_plate);
            require_finite_at_least("maximum reflux ratio", take_off.max_reflux, "", 0.0, false);
            break;
        case take_off_mode::constant_rate: require_finite_at_least("take-off", take_off.l_per_h, "L/h", 0.0, false); break;
    }
    const auto positive = [](const std::string_view name, const double x, const std::string_view unit) {
        if (!std::isnan(x)) require_finite_at_least(name, x, unit, 0.0, false);
    };
    positive("stop at a distillate of", percent * stop.distillate_abv, "% vol");
    positive("stop at a pot of", percent * stop.pot_abv, "% vol");
    positive("stop at a collected volume of", stop.collected_l, "L");
    positive("stop at a recovered share of", percent * stop.recovered_share, "%");
    positive("stop at a take-off of", stop.rate_l_per_h, "L/h");
    require_inside("stop at a recovered share of", percent * stop.recovered_share, "%", percent_range, "share of the ethanol of the charge");
    const bool none = std::isnan(stop.distillate_abv) && std::isnan(stop.pot_abv) && std::isnan(stop.collected_l) && std::isnan(stop.recovered_share) &&
                      std::isnan(stop.rate_l_per_h);
    if (none && take_off.mode != take_off_mode::constant_strength)
        throw InputError(
            "the run needs a stop condition: strength of the distillate or of the pot, volume collected, share recovered, or rate of the take-off");
    constexpr int least_points = 2, most_points = 100000;
    require_inside("points of the curve", points, "", {least_points, most_points}, "start and end");
}

}  // namespace detail

inline ColumnRun rectify(const ColumnCharge& charge, const Column& column, const ColumnHeat& heat, const TakeOff& take_off, const ColumnStop& stop,
                         const wash_equilibrium& equilibrium, int points);

/// A run of a batch column.
///   charge        kg of ethanol and water, more than 0 % and weaker than the azeotrope
///   column        0 to 200 theoretical plates above the pot; hold-up kg, less than the charge
///   heat          heating kW above the loss; hours at total reflux before the first drop
///   take_off      a reflux; or a strength, held by raising the reflux to a maximum; or litres per hour, where the reflux is what remains
///   stop          at least one condition, except for a constant strength, which has its maximum reflux
///   at_pressure   20 to 110 kPa
///   points        of the curve, 2 or more, evenly spaced in kg collected
///   ->            curve, distillate, residue and what is on the plates; mass and ethanol close to 1e-10 of the charge
/// Throws InputError for what is no number or contradicts itself, RangeError for a distillate at or beyond the azeotrope, for one that the pot gives
/// without reflux and for a take-off above the boil-up, SolveError where the strength cannot be had or no stop condition comes true.
/// Source: plate_to_plate, wash_vapour, spirit_heat.
inline ColumnRun rectify(const ColumnCharge& charge, const Column& column, const ColumnHeat& heat, const TakeOff& take_off, const ColumnStop& stop,
                         const pressure<>& at_pressure, const int points = 21) {
    detail::require_column_run(charge, column, heat, take_off, stop, points);
    return rectify(charge, column, heat, take_off, stop, detail::equilibrium_at(at_pressure), points);
}

/// Exactly the same at the pressure of a table, which many runs can share.
inline ColumnRun rectify(const ColumnCharge& charge, const Column& column, const ColumnHeat& heat, const TakeOff& take_off, const ColumnStop& stop,
                         const wash_equilibrium& equilibrium, const int points) {
    detail::require_column_run(charge, column, heat, take_off, stop, points);
    detail::require_below_azeotrope("charge", wash_vapour::raw_mole_fraction(charge.abw), equilibrium.azeotrope(), equilibrium.pressure());
    if (take_off.mode == take_off_mode::constant_strength) {
        const double x = wash_vapour::raw_mole_fraction(volume_at_20c::to_abw(take_off.abv));
        detail::require_below_azeotrope("distillate", x, equilibrium.azeotrope(), equilibrium.pressure());
    }
    return detail::column_run<wash_equilibrium>(equilibrium, charge, column, heat, take_off, stop).run(points);
}

namespace detail {

inline void require_pot_and_distillate(const double pot, const double head, const wash_equilibrium& equilibrium) {
    require_finite_at_least("abw of the pot", percent * wash_vapour::raw_mass_fraction(pot), "% mass", 0.0, false);
    if (!std::isfinite(head)) throw InputError("abw of the distillate must be a finite number of % mass");
    require_below_azeotrope("distillate", head, equilibrium.azeotrope(), equilibrium.pressure());
    if (!(pot < head)) {
        const auto by_volume = [](const double moles) {
            return format_quantity(percent * volume_at_20c::from_abw(wash_vapour::raw_mass_fraction(moles)), "% vol");
        };
        throw InputError("the pot of " + by_volume(pot) + " must be weaker than the distillate of " + by_volume(head));
    }
}

}  // namespace detail

/// The least reflux for a distillate from a pot, with any number of plates. pot > 0 % mass, weaker than distillate, which is below the azeotrope;
/// 20 to 110 kPa. Throws InputError, RangeError. Source: tangent_pinch, wash_vapour.
inline MinimumReflux minimum_reflux(const abw<>& pot, const abw<>& distillate, const pressure<>& at_pressure) {
    const wash_equilibrium equilibrium = detail::equilibrium_at(at_pressure);
    const double x = wash_vapour::mole_fraction(pot.value());
    const double head = wash_vapour::mole_fraction(distillate.value());
    detail::require_pot_and_distillate(x, head, equilibrium);
    return minimum_reflux_by_moles(equilibrium, x, head);
}

/// The least number of theoretical stages, the pot included, at total reflux; a real number. Inputs and errors as minimum_reflux.
inline double stages_at_total_reflux(const abw<>& pot, const abw<>& distillate, const pressure<>& at_pressure) {
    const wash_equilibrium equilibrium = detail::equilibrium_at(at_pressure);
    const double x = wash_vapour::mole_fraction(pot.value());
    const double head = wash_vapour::mole_fraction(distillate.value());
    detail::require_pot_and_distillate(x, head, equilibrium);
    return total_reflux_stages(equilibrium, x, head);
}

}  // namespace ferment
