#include "still.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <ferment/still/cautions.hpp>
#include <ferment/still/charge.hpp>
#include <ferment/still/duty.hpp>
#include <ferment/still/stripping.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "module.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

constexpr std::array<Figure<StillSetup>, 7> setup_figures{{
    {"boiler_l", &StillSetup::boiler_l},
    {"head_space", &StillSetup::head_space_share, percent},
    {"heating_kw", &StillSetup::heating_kw},
    {"heat_loss", &StillSetup::heat_loss_share, percent},
    {"heat_loss_w_per_k", &StillSetup::heat_loss_w_per_k},
    {"still_heat_kj_per_k", &StillSetup::still_heat_kj_per_k},
    {"pressure_kpa", &StillSetup::pressure_kpa},
}};

constexpr std::array<Figure<StrippingPoint>, 13> curve_figures{{
    {"collected_l", &StrippingPoint::collected_l},
    {"collected_kg", &StrippingPoint::collected_kg},
    {"distillate_abw", &StrippingPoint::distillate_abw, percent},
    {"distillate_abv", &StrippingPoint::distillate_abv, percent},
    {"low_wines_abw", &StrippingPoint::low_wines_abw, percent},
    {"low_wines_abv", &StrippingPoint::low_wines_abv, percent},
    {"pot_kg", &StrippingPoint::pot_kg},
    {"pot_abw", &StrippingPoint::pot_abw, percent},
    {"pot_extract", &StrippingPoint::pot_extract, percent},
    {"pot_abv", &StrippingPoint::pot_abv, percent},
    {"head_c", &StrippingPoint::head_c},
    {"recovered", &StrippingPoint::recovered_share, percent},
    {"vapour_heat_kj", &StrippingPoint::vapour_heat_kj},
}};

constexpr std::array<Figure<Stripping>, 6> stripping_figures{{
    {"pressure_kpa", &Stripping::pressure_kpa},
    {"ethanol_left_kg", &Stripping::ethanol_left_kg},
    {"ethanol_left_l", &Stripping::ethanol_left_l},
    {"ethanol_left", &Stripping::ethanol_left_share, percent},
    {"boiling_start_c", &Stripping::boiling_start_c},
    {"boiling_end_c", &Stripping::boiling_end_c},
}};

constexpr std::array<Figure<RunConditions>, 5> condition_figures{{
    {"start_c", &RunConditions::start_c},
    {"ambient_c", &RunConditions::ambient_c},
    {"distillate_c", &RunConditions::distillate_c},
    {"water_in_c", &RunConditions::water_in_c},
    {"water_out_c", &RunConditions::water_out_c},
}};

constexpr std::array<Figure<StillDuty>, 14> duty_figures{{
    {"heat_up_kwh", &StillDuty::heat_up_kwh},
    {"boil_kwh", &StillDuty::boil_kwh},
    {"loss_kwh", &StillDuty::loss_kwh},
    {"energy_kwh", &StillDuty::energy_kwh},
    {"heat_up_h", &StillDuty::heat_up_h},
    {"boil_h", &StillDuty::boil_h},
    {"total_h", &StillDuty::total_h},
    {"condenser_kwh", &StillDuty::condenser_kwh},
    {"condenser_mean_kw", &StillDuty::condenser_mean_kw},
    {"condenser_peak_kw", &StillDuty::condenser_peak_kw},
    {"water_l", &StillDuty::water_l},
    {"water_l_per_h", &StillDuty::water_l_per_h},
    {"water_peak_l_per_h", &StillDuty::water_peak_l_per_h},
    {"low_wines_l_per_h", &StillDuty::low_wines_l_per_h},
}};

constexpr std::array<Figure<StillBill>, 9> bill_figures{{
    {"energy_kwh", &StillBill::energy_kwh},
    {"condenser_kwh", &StillBill::condenser_kwh},
    {"water_l", &StillBill::water_l},
    {"running_h", &StillBill::running_h},
    {"turnaround_h", &StillBill::turnaround_h},
    {"total_h", &StillBill::total_h},
    {"mean_kw", &StillBill::mean_kw},
    {"low_wines_l", &StillBill::low_wines_l},
    {"low_wines_abv", &StillBill::low_wines_abv, percent},
}};

/// What the heat of a run is worked out from.
Stripping stripping_from(const LiquidRow& charge, const double boiling_start_c, const double boiling_end_c, const double low_wines_l, const py::dict& curve) {
    Stripping run;
    run.charge = liquid_from(charge);
    run.boiling_start_c = boiling_start_c;
    run.boiling_end_c = boiling_end_c;
    run.low_wines_l = low_wines_l;
    run.curve = curve_from(curve, curve_figures);
    return run;
}

/// Python's whole numbers have a sign; `fewest` is what the library's own message asks for.
std::size_t count_from(const char* what, const std::int64_t count, const int fewest) {
    if (count < 0) throw RangeError(std::string(what) + " " + std::to_string(count) + " must be " + std::to_string(fewest) + " or more");
    return static_cast<std::size_t>(count);
}

}  // namespace

StripStop strip_stop_from(const std::string_view what, const double value) {
    if (what == "distillate_abv") return StripStop::distillate_abv(abv<>::from_value(value / percent));
    if (what == "pot_abv") return StripStop::pot_abv(abv<>::from_value(value / percent));
    if (what == "collected_l") return StripStop::collected(value * litre);
    if (what == "head_c") return StripStop::head(degrees(value));
    if (what == "recovered") return StripStop::recovered(value / percent);
    throw InputError("stop \"" + std::string(what) + "\" is not known");
}

py::dict stripping_to(const Stripping& run) {
    py::dict d = figures_to(run, stripping_figures);
    d["charge"] = liquid_to(run.charge);
    d["low_wines"] = liquid_to(run.low_wines);
    d["pot"] = liquid_to(run.pot);
    d["curve"] = curve_to(run.curve, curve_figures);
    return d;
}

StillSetup setup_from(const py::dict& values) {
    return figures_from(values, setup_figures);
}

RunConditions conditions_from(const py::dict& values) {
    return figures_from(values, condition_figures);
}

py::dict charges_to(const ChargePlan& plan) {
    py::dict d;
    d["count"] = plan.count;
    d["charge"] = liquid_to(plan.charge);
    d["wash"] = liquid_to(plan.wash);
    d["reserve"] = liquid_to(plan.reserve);
    d["usable_l"] = plan.usable_l;
    d["head_space"] = percent * plan.head_space_share;
    return d;
}

py::dict duty_to(const StillDuty& duty) {
    return figures_to(duty, duty_figures);
}

py::dict still_bill_to(const StillBill& bill) {
    py::dict d = figures_to(bill, bill_figures);
    d["charges"] = bill.charges;
    return d;
}

py::dict liquid_to(const StillLiquid& liquid) {
    py::dict d;
    d["mass_kg"] = liquid.mass_kg;
    d["abw"] = percent * liquid.abw;
    d["extract"] = percent * liquid.extract;
    d["volume_l"] = liquid.mass_kg == 0.0 ? 0.0 : liquid.volume_l();
    d["abv"] = percent * liquid.abv();
    d["ethanol_kg"] = liquid.ethanol_kg();
    d["pure_alcohol_l"] = liquid.pure_alcohol_l();
    return d;
}

void bind_still(py::module_& m) {
    m.attr("still_cautions") = still_cautions;
    m.attr("glucose_molar_mass") = wash_vapour::extract_molar_mass;
    m.attr("usual_head_space") = percent * usual_head_space_share;
    m.def("validate_still", [](const py::dict& still) { ferment::detail::require_setup(setup_from(still)); });
    m.def("still_liquid", [](const double volume_l, const double abv_percent, const double extract_percent) {
        return liquid_to(still_liquid(volume_l * litre, abv_percent * percent_vol, extract<>::from_value(extract_percent / percent)));
    });
    m.def("still_liquid_by_mass", [](const LiquidRow& row) {
        const StillLiquid liquid = liquid_from(row);
        ferment::detail::require_liquid(liquid);
        return liquid_to(liquid);
    });
    m.def("plan_charges", [](const LiquidRow& wash, const double reserve_l, const double reserve_abv, const py::dict& still) {
        return charges_to(plan_charges(liquid_from(wash), {reserve_l, reserve_abv / percent}, setup_from(still)));
    });
    m.def("strip", [](const LiquidRow& charge, const std::optional<py::dict>& still, const double pressure_kpa, const std::string& stop, const double value,
                      const std::int64_t points, const double extract_molar_mass) {
        const StillLiquid liquid = liquid_from(charge);
        const StripStop end = strip_stop_from(stop, value);
        const std::size_t count = count_from("points of the curve", points, 2);
        std::optional<StillSetup> setup;
        if (still) setup = setup_from(*still);
        return stripping_to([&] {
            const py::gil_scoped_release without_lock;
            return setup ? strip(liquid, *setup, end, count, extract_molar_mass) : strip(liquid, kilopascals(pressure_kpa), end, count, extract_molar_mass);
        }());
    });
    m.def("stripping_duty", [](const LiquidRow& charge, const double boiling_start_c, const double boiling_end_c, const double low_wines_l,
                               const py::dict& curve, const py::dict& still, const py::dict& conditions) {
        const Stripping run = stripping_from(charge, boiling_start_c, boiling_end_c, low_wines_l, curve);
        const StillSetup setup = setup_from(still);
        const RunConditions at = conditions_from(conditions);
        return duty_to([&] {
            const py::gil_scoped_release without_lock;
            return stripping_duty(run, setup, at);
        }());
    });
    m.def("all_charges", [](const py::dict& duty, const double low_wines_l, const double low_wines_abv, const std::int64_t charges, const double turnaround_h) {
        Stripping run;
        run.low_wines_l = low_wines_l;
        run.low_wines_abv = low_wines_abv / percent;
        return still_bill_to(all_charges(figures_from(duty, duty_figures), run, count_from("number of charges", charges, 1), turnaround_h));
    });
}

}  // namespace ferment_python
