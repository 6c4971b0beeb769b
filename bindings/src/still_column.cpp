#include <array>
#include <cmath>
#include <cstdint>
#include <ferment/still/column.hpp>
#include <ferment/still/packing.hpp>
#include <string>
#include <string_view>

#include "module.hpp"
#include "still.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

constexpr std::array<Figure<ColumnPoint>, 18> curve_figures{{
    {"collected_l", &ColumnPoint::collected_l},
    {"collected_kg", &ColumnPoint::collected_kg},
    {"distillate_abw", &ColumnPoint::abw, percent},
    {"distillate_abv", &ColumnPoint::abv, percent},
    {"collected_abw", &ColumnPoint::collected_abw, percent},
    {"collected_abv", &ColumnPoint::collected_abv, percent},
    {"pot_kg", &ColumnPoint::pot_kg},
    {"pot_abw", &ColumnPoint::pot_abw, percent},
    {"pot_abv", &ColumnPoint::pot_abv, percent},
    {"pot_c", &ColumnPoint::pot_c},
    {"head_c", &ColumnPoint::head_c},
    {"hold_up_abw", &ColumnPoint::hold_up_abw, percent},
    {"reflux", &ColumnPoint::reflux},
    {"take_off_l_per_h", &ColumnPoint::take_off_l_per_h},
    {"boil_up_kg_per_h", &ColumnPoint::boil_up_kg_per_h},
    {"condenser_kw", &ColumnPoint::condenser_kw},
    {"time_h", &ColumnPoint::time_h},
    {"energy_kwh", &ColumnPoint::energy_kwh},
}};

constexpr std::array<Figure<ColumnHoldUp>, 6> hold_up_figures{{
    {"mass_kg", &ColumnHoldUp::mass_kg},
    {"ethanol_kg", &ColumnHoldUp::ethanol_kg},
    {"abw", &ColumnHoldUp::abw, percent},
    {"share_of_ethanol", &ColumnHoldUp::share_of_ethanol, percent},
    {"pot_abw", &ColumnHoldUp::pot_abw, percent},
    {"head_abw", &ColumnHoldUp::head_abw, percent},
}};

constexpr std::array<Figure<ColumnRun>, 10> run_figures{{
    {"distillate_kg", &ColumnRun::distillate_kg},
    {"distillate_ethanol_kg", &ColumnRun::distillate_ethanol_kg},
    {"distillate_l", &ColumnRun::distillate_l},
    {"distillate_abv", &ColumnRun::distillate_abv, percent},
    {"residue_kg", &ColumnRun::residue_kg},
    {"residue_ethanol_kg", &ColumnRun::residue_ethanol_kg},
    {"residue_abw", &ColumnRun::residue_abw, percent},
    {"recovered", &ColumnRun::recovered_share, percent},
    {"time_h", &ColumnRun::time_h},
    {"energy_kwh", &ColumnRun::energy_kwh},
}};

constexpr std::array<Figure<ColumnHeat>, 3> heat_figures{{
    {"heating_kw", &ColumnHeat::heating_kw},
    {"loss_kw", &ColumnHeat::loss_kw},
    {"equilibration_h", &ColumnHeat::equilibration_h},
}};

constexpr std::array<Figure<ColumnCapacity>, 7> capacity_figures{{
    {"flooding_m_per_s", &ColumnCapacity::flooding_m_per_s},
    {"flooding_kw", &ColumnCapacity::flooding_kw},
    {"boil_up_kw", &ColumnCapacity::boil_up_kw},
    {"boil_up_kg_per_h", &ColumnCapacity::boil_up_kg_per_h},
    {"pressure_drop_pa_m", &ColumnCapacity::pressure_drop_pa_m},
    {"hold_up", &ColumnCapacity::hold_up_share, percent},
    {"vapour_density", &ColumnCapacity::vapour_density},
}};

constexpr std::array<Figure<RefluxSetting>, 4> setting_figures{{
    {"reflux", &RefluxSetting::reflux},
    {"take_off_per_coolant", &RefluxSetting::take_off_per_coolant},
    {"take_off_per_power", &RefluxSetting::take_off_per_power},
    {"condenser_kw", &RefluxSetting::condenser_kw},
}};

abw<> by_mass(const double abv_percent) {
    return abw_from_abv(abv_percent * percent_vol);
}

int whole(const char* what, const std::int64_t count) {
    if (count != static_cast<int>(count)) throw RangeError(std::string(what) + " " + std::to_string(count) + " cannot be counted");
    return static_cast<int>(count);
}

}  // namespace

TakeOff take_off_from(const py::dict& values) {
    const auto mode = values["mode"].cast<std::string>();
    if (mode == "reflux") return TakeOff::at_reflux(values["reflux"].cast<double>());
    if (mode == "strength") return TakeOff::at_strength(values["abv"].cast<double>() / percent, values["max_reflux"].cast<double>());
    if (mode == "rate") return TakeOff::at_rate(values["l_per_h"].cast<double>());
    throw InputError("take-off mode " + in_quotes(mode) + " is not known; known are reflux, strength, rate");
}

/// Only what was asked for is in `values`; the library takes NaN as not asked for, so NaN is refused here.
ColumnStop column_stop_from(const py::dict& values) {
    ColumnStop stop;
    const auto take = [&values](const char* name, double& to, const double scale) {
        if (!values.contains(name)) return;
        const auto value = values[name].cast<double>();
        if (std::isnan(value)) throw InputError("stop " + std::string(name) + " is not a number");
        to = value / scale;
    };
    take("distillate_abv", stop.distillate_abv, percent);
    take("pot_abv", stop.pot_abv, percent);
    take("collected_l", stop.collected_l, 1.0);
    take("recovered", stop.recovered_share, percent);
    take("take_off_l_per_h", stop.rate_l_per_h, 1.0);
    return stop;
}

py::dict column_run_to(const ColumnRun& run) {
    py::dict d = figures_to(run, run_figures);
    d["curve"] = curve_to(run.points, curve_figures);
    d["reason"] = to_string(run.reason);
    d["equilibrated"] = figures_to(run.equilibrated, hold_up_figures);
    d["at_end"] = figures_to(run.at_end, hold_up_figures);
    return d;
}

void bind_still_column(py::module_& m) {
    m.def("rectify", [](const LiquidRow& charge, const std::int64_t plates, const double hold_up_kg, const py::dict& heat, const py::dict& take_off,
                        const py::dict& stop, const double pressure_kpa, const std::int64_t points) {
        if (charge[2] != 0.0) throw InputError("the charge of a column must be free of extract; strip it first, or leave the extract out");
        const ColumnCharge in{charge[0], charge[1] / percent};
        const Column column{whole("plates", plates), hold_up_kg};
        const ColumnHeat heating = figures_from(heat, heat_figures);
        const TakeOff mode = take_off_from(take_off);
        const ColumnStop end = column_stop_from(stop);
        const int count = whole("points of the curve", points);
        return column_run_to([&] {
            const py::gil_scoped_release without_lock;
            return rectify(in, column, heating, mode, end, kilopascals(pressure_kpa), count);
        }());
    });
    m.def("minimum_reflux", [](const double pot_abv, const double distillate_abv, const double pressure_kpa) {
        const MinimumReflux least = minimum_reflux(by_mass(pot_abv), by_mass(distillate_abv), kilopascals(pressure_kpa));
        const double pinch = wash_vapour::mass_fraction(least.pinch);
        py::dict d;
        d["reflux"] = least.reflux;
        d["pinch_abv"] = percent * volume_at_20c::from_abw(pinch);
        d["tangent"] = least.tangent;
        return d;
    });
    m.def("stages_at_total_reflux", [](const double pot_abv, const double distillate_abv, const double pressure_kpa) {
        return stages_at_total_reflux(by_mass(pot_abv), by_mass(distillate_abv), kilopascals(pressure_kpa));
    });
    m.def("fenske_stages", [](const double pot_abv, const double distillate_abv, const double relative_volatility) {
        const double pot = wash_vapour::mole_fraction(by_mass(pot_abv).value());
        const double head = wash_vapour::mole_fraction(by_mass(distillate_abv).value());
        if (relative_volatility <= 1.0) {
            throw RangeError("relative volatility " + format_number(relative_volatility) + " must be above 1, or the pot cannot be the weaker one");
        }
        if (pot <= 0.0) throw RangeError("strength of the pot " + format_quantity(pot_abv, "% vol") + " must be above 0 % vol");
        if (head >= 1.0) throw RangeError("strength of the distillate " + format_quantity(distillate_abv, "% vol") + " must be below 100 % vol");
        if (head <= pot) {
            throw InputError("the pot of " + format_quantity(pot_abv, "% vol") + " must be weaker than the distillate of " +
                             format_quantity(distillate_abv, "% vol"));
        }
        return fenske_stages(head, pot, relative_volatility);
    });
    m.def("reflux_of_partial_condenser",
          [](const double coolant_l_per_h, const double inlet_c, const double outlet_c, const double vapour_c, const double power_kw) {
              return figures_to(reflux_of_partial_condenser({coolant_l_per_h, inlet_c, outlet_c, vapour_c}, power_kw), setting_figures);
          });
    m.def("reflux_of_divider", [](const double share) { return figures_to(reflux_of_divider(share / percent), setting_figures); });
    m.def("packings", [] {
        py::list rows;
        for (const PackingData& row : packing_table) {
            rows.append(py::make_tuple(row.name, row.size_mm, percent * row.void_fraction, row.surface_m2_m3, row.factor_per_ft));
        }
        return rows;
    });
    m.def("plates_of_packing", &plates_of_packing);
    m.def("whole_plates_of_packing", &whole_plates_of_packing);
    m.def("column_capacity", [](const double diameter_m, const double vapour_abv, const double flood_share, const double void_percent,
                                const double surface_m2_m3, const std::array<double, 3>& friction, const double pressure_kpa) {
        const stichlmair_1989::bed bed{void_percent / percent, surface_m2_m3, friction[0], friction[1], friction[2]};
        return figures_to(column_capacity(diameter_m, bed, by_mass(vapour_abv), kilopascals(pressure_kpa), flood_share / percent), capacity_figures);
    });
    const stichlmair_1989::bed& saddles = stichlmair_1989::berl_saddle_25mm;
    m.attr("berl_saddle_bed") = py::make_tuple(percent * saddles.void_fraction, saddles.surface, py::make_tuple(saddles.c1, saddles.c2, saddles.c3));
}

}  // namespace ferment_python
