#pragma once
// Heat, time and cooling water of a run, and of all charges together.

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/enthalpy.hpp>
#include <ferment/liquid/water.hpp>
#include <ferment/still/cautions.hpp>
#include <ferment/still/charge.hpp>
#include <ferment/still/stripping.hpp>
#include <string>
#include <string_view>

namespace ferment {

inline constexpr double kilojoules_per_kilowatt_hour = 3600.0;
inline constexpr double seconds_per_hour = 3600.0;
inline constexpr double watts_per_kilowatt = 1000.0;

inline constexpr source still_duty_source{
    "still_duty",
    "heat, time and cooling water of a batch in a simple still",
    "energy balance of pot, metal and vapour with the enthalpies of spirit_heat and wash_heat",
    "0 to 110 degC",
    "1 to 3 % in the heat; the loss and the metal are as good as what is given for them, and what condenses in the neck is left out",
};

/// Temperatures around a run, degC.
struct RunConditions {
    double start_c = 20.0;       ///< of charge and still before heating
    double ambient_c = 20.0;     ///< of the room
    double distillate_c = 20.0;  ///< of the low wines as they leave the condenser
    double water_in_c = 15.0;    ///< cooling water
    double water_out_c = 50.0;
};

/// What one run takes.
struct StillDuty {
    double heat_up_kwh = 0.0;  ///< into charge and metal, to the first drop
    double boil_kwh = 0.0;     ///< into vapour, pot and metal, to the last drop
    double loss_kwh = 0.0;     ///< to the room and in the heating, over the whole run
    double energy_kwh = 0.0;   ///< drawn by the heating: the three together
    double heat_up_h = 0.0;
    double boil_h = 0.0;
    double total_h = 0.0;
    double condenser_kwh = 0.0;  ///< taken out by the cooling water
    double condenser_mean_kw = 0.0;
    double condenser_peak_kw = 0.0;  ///< the greatest between two points of the curve
    double water_l = 0.0;            ///< measured cold
    double water_l_per_h = 0.0;      ///< mean while low wines run; zero where none do
    double water_peak_l_per_h = 0.0;
    double low_wines_l_per_h = 0.0;  ///< mean, at 20 degC
    std::string_view cautions = still_cautions;
};

/// All charges of a wash.
struct StillBill {
    std::size_t charges = 0;
    double energy_kwh = 0.0;
    double condenser_kwh = 0.0;
    double water_l = 0.0;
    double running_h = 0.0;     ///< heated
    double turnaround_h = 0.0;  ///< emptying, rinsing and filling between charges
    double total_h = 0.0;
    double mean_kw = 0.0;      ///< energy over all the hours
    double low_wines_l = 0.0;  ///< at 20 degC, all charges
    double low_wines_abv = 0.0;
    std::string_view cautions = still_cautions;
};

/// Enthalpy of a liquid with extract in it, J/kg; reference state of liquid/enthalpy.hpp.
struct pot_heat {
    /// e ethanol and x extract as mass fractions, t in degC, 0 to 110; NaN outside.
    template <class T>
    static constexpr T enthalpy(const T& e, const T& x, const T& t) {
        return (1.0 - x) * spirit_heat::liquid_enthalpy(T(e / (1.0 - x)), t) + x * choi_okos_1986_heat::enthalpy(choi_okos_1986_heat::carbohydrate, t);
    }
};

namespace detail {

/// What the heating gives and what the room takes, kW.
struct heating_balance {
    double into_still_kw;
    double loss_kw_per_k;
    double ambient_c;

    heating_balance(const StillSetup& still, const double room_c)
        : into_still_kw(still.heating_kw * (1.0 - still.heat_loss_share)), loss_kw_per_k(still.heat_loss_w_per_k / watts_per_kilowatt), ambient_c(room_c) {}

    /// What the room takes, and what is left for the liquid, at t degC.
    [[nodiscard]] double room_kw(const double t) const { return loss_kw_per_k * (t - ambient_c); }
    [[nodiscard]] double useful_kw(const double t) const { return into_still_kw - room_kw(t); }

    void require_enough(const double t) const {
        if (into_still_kw <= 0.0 || useful_kw(t) <= 0.0) {
            throw SolveError("heating of " + format_quantity(into_still_kw, "kW") + " (less its own loss) does not make up for the loss of " +
                             format_quantity(room_kw(t), "kW") + " at " + format_quantity(t, "degC") + ": the still never gets there");
        }
    }
};

inline void require_conditions(const RunConditions& at, const Stripping& run) {
    const num::interval liquid{enthalpy_t_range.lower, run.boiling_start_c};
    require_number("start temperature", at.start_c, "degC", liquid, "from the reference state to the first drop");
    require_number("temperature of the room", at.ambient_c, "degC", {-50.0, 60.0}, "a room");
    require_number("temperature of the low wines", at.distillate_c, "degC", liquid, "from the reference state to the first drop");
    require_number("cooling water in", at.water_in_c, "degC", {enthalpy_t_range.lower, at.distillate_c}, "no warmer than the low wines are to leave");
    require_number("cooling water out", at.water_out_c, "degC", liquid, "no hotter than the vapour");
    if (at.water_out_c <= at.water_in_c) {
        throw RangeError("cooling water out " + format_quantity(at.water_out_c, "degC") + " must be warmer than in, " + format_quantity(at.water_in_c, "degC"));
    }
}

}  // namespace detail

/// Heat, time and cooling water of a stripping run.
///   run     as strip gave it; the times of a still that loses heat to the room are exact to the square of the spacing of its curve
///   still   heating more than zero kW, loss share 0 to less than 100 %, W/K and kJ/K zero or more; boiler and head space are not used
///   at      temperatures; the metal is as hot as the pot
///   ->      energy, hours and litres
/// The wall of a hot head returns some vapour to the pot; that is not counted, so that time and energy are rather too small with a bare neck.
/// Throws InputError for what is no number, RangeError outside, SolveError where the heating cannot reach the boiling point.
/// Source: still_duty_source.
inline StillDuty stripping_duty(const Stripping& run, const StillSetup& still, const RunConditions& at) {
    detail::require_conditions(at, run);
    detail::require_more_than_none("heating", still.heating_kw, "kW");
    detail::require_share_of("heat loss", still.heat_loss_share, {0.0, 1.0}, "a share of the heating");
    detail::require_number("heat loss", still.heat_loss_w_per_k, "W/K", detail::any_amount, "an amount");
    detail::require_number("heat capacity of the still", still.still_heat_kj_per_k, "kJ/K", detail::any_amount, "an amount");
    if (run.curve.empty()) {
        throw InputError("the run has no curve; take it from strip");
    }
    const detail::heating_balance heating(still, at.ambient_c);
    heating.require_enough(std::max(run.boiling_start_c, run.boiling_end_c));

    const double joules_per_kilojoule = kilojoule.value();
    const StillLiquid& charge = run.charge;
    const auto pot_kj = [&](const double kg, const double e, const double x, const double t) {
        return kg * pot_heat::enthalpy(e, x, t) / joules_per_kilojoule + still.still_heat_kj_per_k * t;
    };
    StillDuty d;
    const double heat_up_kj =
        pot_kj(charge.mass_kg, charge.abw, charge.extract, run.boiling_start_c) - pot_kj(charge.mass_kg, charge.abw, charge.extract, at.start_c);
    // What the room takes on the way, for each kelvin. Time and loss follow from it and from the heat that stays, so that without a loss there is none.
    const auto room_kj_per_kelvin = [&](const double t) {
        const double capacity = charge.mass_kg * wash_heat::heat_capacity(charge.abw, charge.extract, t) / joules_per_kilojoule + still.still_heat_kj_per_k;
        return heating.room_kw(t) * capacity / heating.useful_kw(t);
    };
    // Smooth but for a pole where the heating just fails; that far it does not come.
    constexpr unsigned halvings = 15;
    constexpr double accuracy = 1e-10;
    const bool tight = still.heat_loss_w_per_k == 0.0;
    double room_kj =
        tight ? 0.0 : boost::math::quadrature::gauss_kronrod<double, 15>::integrate(room_kj_per_kelvin, at.start_c, run.boiling_start_c, halvings, accuracy);
    const double heat_up_s = (heat_up_kj + room_kj) / heating.into_still_kw;

    // Heat that has gone in since the first drop, and that the condenser has taken.
    struct totals {
        double in_kj;
        double out_kj;
    };
    const StrippingPoint& first = run.curve.front();
    const double first_kj = pot_kj(first.pot_kg, first.pot_abw, first.pot_extract, first.head_c);
    const auto until = [&](const StrippingPoint& p) {
        const double low_wines_kj = p.collected_kg * spirit_heat::liquid_enthalpy(p.low_wines_abw, at.distillate_c) / joules_per_kilojoule;
        return totals{pot_kj(p.pot_kg, p.pot_abw, p.pot_extract, p.head_c) + p.vapour_heat_kj - first_kj, p.vapour_heat_kj - low_wines_kj};
    };
    double boil_s = 0.0;
    double peak_kw = 0.0;
    totals before = until(run.curve.front());
    for (std::size_t i = 1; i < run.curve.size(); ++i) {
        const totals here = until(run.curve[i]);
        const double mean_c = 0.5 * (run.curve[i - 1].head_c + run.curve[i].head_c);
        const double seconds = (here.in_kj - before.in_kj) / heating.useful_kw(mean_c);
        boil_s += seconds;
        room_kj += tight ? 0.0 : heating.room_kw(mean_c) * seconds;
        if (seconds > 0.0) {
            peak_kw = std::max(peak_kw, (here.out_kj - before.out_kj) / seconds);
        }
        before = here;
    }

    const double water_kj_per_l = water_density(at.water_in_c * degree_celsius).value() / litres_per_cubic_metre *
                                  (spirit_heat::liquid_enthalpy(0.0, at.water_out_c) - spirit_heat::liquid_enthalpy(0.0, at.water_in_c)) / joules_per_kilojoule;
    d.heat_up_kwh = heat_up_kj / kilojoules_per_kilowatt_hour;
    d.boil_kwh = before.in_kj / kilojoules_per_kilowatt_hour;
    d.heat_up_h = heat_up_s / seconds_per_hour;
    d.boil_h = boil_s / seconds_per_hour;
    d.total_h = d.heat_up_h + d.boil_h;
    d.energy_kwh = still.heating_kw * d.total_h;
    d.loss_kwh = still.heat_loss_share * d.energy_kwh + room_kj / kilojoules_per_kilowatt_hour;
    d.condenser_kwh = before.out_kj / kilojoules_per_kilowatt_hour;
    d.water_l = before.out_kj / water_kj_per_l;
    if (boil_s > 0.0) {
        d.condenser_mean_kw = before.out_kj / boil_s;
        d.condenser_peak_kw = peak_kw;
        d.water_l_per_h = d.water_l / d.boil_h;
        d.water_peak_l_per_h = peak_kw * seconds_per_hour / water_kj_per_l;
        d.low_wines_l_per_h = run.low_wines_l / d.boil_h;
    }
    return d;
}

/// Time and power of all charges, one after the other, each from its own start temperature.
///   duty           of one charge
///   run            of one charge
///   charges        1 or more
///   turnaround_h   between two charges, hours, zero or more
/// Throws InputError for what is no number, RangeError outside.
inline StillBill all_charges(const StillDuty& duty, const Stripping& run, const std::size_t charges, const double turnaround_h = 0.0) {
    if (charges == 0) {
        throw RangeError("number of charges 0 must be 1 or more");
    }
    detail::require_number("turnaround", turnaround_h, "h", detail::any_amount, "hours between two charges");
    detail::require_workable("turnaround", turnaround_h, "h");
    const double n = static_cast<double>(charges);
    StillBill bill;
    bill.charges = charges;
    bill.energy_kwh = n * duty.energy_kwh;
    bill.condenser_kwh = n * duty.condenser_kwh;
    bill.water_l = n * duty.water_l;
    bill.running_h = n * duty.total_h;
    bill.turnaround_h = (n - 1.0) * turnaround_h;
    bill.total_h = bill.running_h + bill.turnaround_h;
    bill.mean_kw = bill.energy_kwh / bill.total_h;
    bill.low_wines_l = n * run.low_wines_l;
    bill.low_wines_abv = run.low_wines_abv;
    return bill;
}

}  // namespace ferment
