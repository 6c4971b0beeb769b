#include <pybind11/numpy.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <ferment/batch/plans.hpp>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "batch.hpp"
#include "edge.hpp"
#include "module.hpp"
#include "still.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

constexpr std::array<Figure<PlanRow>, 20> row_figures{{
    {"wash_l", &PlanRow::wash_l},
    {"wash_abv", &PlanRow::wash_abv, percent},
    {"stripping_charges", &PlanRow::stripping_charges},
    {"low_wines_l", &PlanRow::low_wines_l},
    {"low_wines_abv", &PlanRow::low_wines_abv, percent},
    {"spirit_charges", &PlanRow::spirit_charges},
    {"fore_shots_l", &PlanRow::fore_shots_l},
    {"heads_l", &PlanRow::heads_l},
    {"hearts_l", &PlanRow::hearts_l},
    {"hearts_abv", &PlanRow::hearts_abv, percent},
    {"hearts_pure_alcohol_l", &PlanRow::hearts_pure_alcohol_l},
    {"tails_l", &PlanRow::tails_l},
    {"bottled_l", &PlanRow::bottled_l},
    {"bottles", &PlanRow::bottles},
    {"charges", &PlanRow::charges},
    {"energy_kwh", &PlanRow::energy_kwh},
    {"cooling_water_l", &PlanRow::cooling_water_l},
    {"total_h", &PlanRow::total_h},
    {"recovered", &PlanRow::recovered_share, percent},
    {"balance_error", &PlanRow::balance_error},
}};

// ---- what can be varied ----

StillSetup& spirit_still(PlanRequest& r) {
    if (!r.spirit.still) throw InputError("the spirit run has no still of its own; vary that of the stripping run");
    return *r.spirit.still;
}

void set_grain(PlanRequest& r, const double kg) {
    const double share = kg / r.bill.total().value();
    Bill bill;
    for (const BillItem& item : r.bill.items()) bill.add(item.grain, item.weight * share);
    r.bill = std::move(bill);
}

void set_plates(PlanRequest& r, const double plates) {
    if (!(std::abs(plates) <= std::numeric_limits<int>::max()) || std::trunc(plates) != plates) {
        throw InputError("plates " + format_number(plates) + " must be a whole number");
    }
    r.spirit.plates = static_cast<int>(plates);
}

template <StripStop::when By>
void set_stripping_end(PlanRequest& r, const double value) {
    constexpr bool plain = By == StripStop::when::collected_l || By == StripStop::when::head_c;
    r.stripping_stop = {By, plain ? value : value / percent};
}

template <CutEnd CutPlan::*Part, CutEnd::by By>
void set_cut(PlanRequest& r, const double value) {
    r.cuts.*Part = {By, By == CutEnd::by::collected_l ? value : value / percent};
}

/// An input of a plan by name.
struct Varied {
    std::string_view name;
    void (*set)(PlanRequest&, double);
};

// Names are those of PlanRequest and its parts where there is one, in the same units.
constexpr auto varied = std::to_array<Varied>({
    {"grain_kg", set_grain},
    {"water_kg", [](PlanRequest& r, const double x) { r.water_kg = x; }},
    {"conversion", [](PlanRequest& r, const double x) { r.assumptions.conversion.value = x / percent; }},
    {"fermentation_efficiency", [](PlanRequest& r, const double x) { r.assumptions.fermentation_efficiency.value = x / percent; }},
    {"soluble_share_of_rest", [](PlanRequest& r, const double x) { r.assumptions.soluble_share_of_rest.value = x / percent; }},
    {"dissolved_by_products", [](PlanRequest& r, const double x) { r.dissolved_by_products.value = x / percent; }},
    {"absorption", [](PlanRequest& r, const double x) { r.handling.absorption.value = x; }},
    {"boiler_l", [](PlanRequest& r, const double x) { r.stripping_still.boiler_l = x; }},
    {"head_space", [](PlanRequest& r, const double x) { r.stripping_still.head_space_share = x / percent; }},
    {"heating_kw", [](PlanRequest& r, const double x) { r.stripping_still.heating_kw = x; }},
    {"heat_loss", [](PlanRequest& r, const double x) { r.stripping_still.heat_loss_share = x / percent; }},
    {"heat_loss_w_per_k", [](PlanRequest& r, const double x) { r.stripping_still.heat_loss_w_per_k = x; }},
    {"still_heat_kj_per_k", [](PlanRequest& r, const double x) { r.stripping_still.still_heat_kj_per_k = x; }},
    {"pressure_kpa", [](PlanRequest& r, const double x) { r.stripping_still.pressure_kpa = x; }},
    {"spirit_boiler_l", [](PlanRequest& r, const double x) { spirit_still(r).boiler_l = x; }},
    {"spirit_heating_kw", [](PlanRequest& r, const double x) { spirit_still(r).heating_kw = x; }},
    {"spirit_pressure_kpa", [](PlanRequest& r, const double x) { spirit_still(r).pressure_kpa = x; }},
    {"stripping_end_abv", set_stripping_end<StripStop::when::distillate_abv>},
    {"stripping_end_pot_abv", set_stripping_end<StripStop::when::pot_abv>},
    {"stripping_end_l", set_stripping_end<StripStop::when::collected_l>},
    {"stripping_end_head_c", set_stripping_end<StripStop::when::head_c>},
    {"stripping_end_recovered", set_stripping_end<StripStop::when::recovered_share>},
    {"ambient_c", [](PlanRequest& r, const double x) { r.conditions.ambient_c = x; }},
    {"distillate_c", [](PlanRequest& r, const double x) { r.conditions.distillate_c = x; }},
    {"water_in_c", [](PlanRequest& r, const double x) { r.conditions.water_in_c = x; }},
    {"water_out_c", [](PlanRequest& r, const double x) { r.conditions.water_out_c = x; }},
    {"plates", set_plates},
    {"packed_height_m", [](PlanRequest& r, const double x) { r.spirit.packed_height_m = x; }},
    {"hetp_m", [](PlanRequest& r, const double x) { r.spirit.hetp_m = x; }},
    {"hold_up_kg", [](PlanRequest& r, const double x) { r.spirit.hold_up_kg = x; }},
    {"equilibration_h", [](PlanRequest& r, const double x) { r.spirit.equilibration_h = x; }},
    {"reflux", [](PlanRequest& r, const double x) { r.spirit.take_off = TakeOff::at_reflux(x); }},
    {"take_off_abv", [](PlanRequest& r, const double x) { r.spirit.take_off = TakeOff::at_strength(x / percent, r.spirit.take_off.max_reflux); }},
    {"max_reflux", [](PlanRequest& r, const double x) { r.spirit.take_off.max_reflux = x; }},
    {"take_off_l_per_h", [](PlanRequest& r, const double x) { r.spirit.take_off = TakeOff::at_rate(x); }},
    {"spirit_end_abv", [](PlanRequest& r, const double x) { r.spirit.stop.distillate_abv = x / percent; }},
    {"spirit_end_pot_abv", [](PlanRequest& r, const double x) { r.spirit.stop.pot_abv = x / percent; }},
    {"spirit_end_l", [](PlanRequest& r, const double x) { r.spirit.stop.collected_l = x; }},
    {"spirit_end_recovered", [](PlanRequest& r, const double x) { r.spirit.stop.recovered_share = x / percent; }},
    {"strongest_charge_abv", [](PlanRequest& r, const double x) { r.spirit.strongest_charge_abv = x / percent; }},
    {"fore_shots_end_share", set_cut<&CutPlan::fore_shots_end, CutEnd::by::alcohol_share>},
    {"fore_shots_end_l", set_cut<&CutPlan::fore_shots_end, CutEnd::by::collected_l>},
    {"fore_shots_end_abv", set_cut<&CutPlan::fore_shots_end, CutEnd::by::distillate_abv>},
    {"heads_end_share", set_cut<&CutPlan::heads_end, CutEnd::by::alcohol_share>},
    {"heads_end_l", set_cut<&CutPlan::heads_end, CutEnd::by::collected_l>},
    {"heads_end_abv", set_cut<&CutPlan::heads_end, CutEnd::by::distillate_abv>},
    {"hearts_end_share", set_cut<&CutPlan::hearts_end, CutEnd::by::alcohol_share>},
    {"hearts_end_l", set_cut<&CutPlan::hearts_end, CutEnd::by::collected_l>},
    {"hearts_end_abv", set_cut<&CutPlan::hearts_end, CutEnd::by::distillate_abv>},
    {"recycled_l", [](PlanRequest& r, const double x) { r.recycled.volume_l = x; }},
    {"recycled_abv", [](PlanRequest& r, const double x) { r.recycled.abv = x / percent; }},
    {"target_abv", [](PlanRequest& r, const double x) { r.bottling.target_abv = x / percent; }},
    {"bottle_l", [](PlanRequest& r, const double x) { r.bottling.bottle_l = x; }},
    {"turnaround_h", [](PlanRequest& r, const double x) { r.turnaround_h = x; }},
});

const Varied& varied_of(const std::string& name) {
    for (const Varied& known : varied) {
        if (known.name == name) return known;
    }
    throw InputError("plans cannot vary " + name);
}

using Values = py::array_t<double, py::array::c_style>;

struct Input {
    const Varied* what;
    const double* values;
    std::size_t step;  // 0: one value for all
};

/// A copy of the request with the inputs of one scenario. What a setter refuses is an error of that scenario.
PlanRequest scenario(const PlanRequest& usual, const std::vector<Input>& inputs, const std::size_t i) {
    PlanRequest r = usual;
    for (const Input& input : inputs) {
        const double x = input.values[i * input.step];
        if (std::isnan(x)) throw InputError(std::string(input.what->name) + " is not a number");
        input.what->set(r, x);
    }
    return r;
}

/// (index, name of the error, message)
py::object failure_to(const std::optional<PlanFailure>& failure) {
    if (!failure) return py::none();
    try {
        std::rethrow_exception(failure->error);
    } catch (const RangeError& e) {
        return py::make_tuple(failure->index, "RangeError", e.what());
    } catch (const InputError& e) {
        return py::make_tuple(failure->index, "InputError", e.what());
    } catch (const SolveError& e) {
        return py::make_tuple(failure->index, "SolveError", e.what());
    } catch (const Error& e) {
        return py::make_tuple(failure->index, "Error", e.what());
    }
}

/// Rows of `count` scenarios, each input a row of as many values or one for all.
py::tuple plan_rows(const py::dict& request, const std::vector<std::pair<std::string, Values>>& inputs, const std::size_t count, const unsigned threads,
                    const bool ends_at_error, const py::object& progress) {
    const Asked asked = asked_from(request);
    std::vector<Input> columns;
    for (const auto& [name, values] : inputs) {
        const auto size = static_cast<std::size_t>(values.size());
        if (size != 1 && size != count) throw InputError(name + " has " + std::to_string(size) + " values for " + std::to_string(count) + " scenarios");
        columns.push_back({&varied_of(name), values.data(), size == 1 ? 0U : 1U});
    }
    py::dict rows;
    std::array<double*, row_figures.size()> out{};
    for (std::size_t k = 0; k < row_figures.size(); ++k) {
        py::array_t<double> row(static_cast<py::ssize_t>(count));
        out[k] = row.mutable_data();
        rows[row_figures[k].name] = row;
    }
    PlansOptions options;
    options.on_error = ends_at_error ? no_plan::ends_all : no_plan::is_nan;
    options.threads = threads;
    options.progress = [&](const std::size_t done) {
        const py::gil_scoped_acquire lock;
        if (PyErr_CheckSignals() != 0) throw py::error_already_set();
        if (!progress.is_none()) progress(done, count);
    };
    std::optional<PlanFailure> failure;
    {
        const py::gil_scoped_release without_lock;
        failure = plans(
            count, [&](const std::size_t i) { return scenario(asked.request, columns, i); },
            [&](const std::size_t i, const PlanRow& row) {
                for (std::size_t k = 0; k < row_figures.size(); ++k) out[k][i] = row_figures[k].scale * (row.*row_figures[k].member);
            },
            options);
    }
    return py::make_tuple(rows, failure_to(failure));
}

}  // namespace

void bind_plans(py::module_& m) {
    m.def("plans", &plan_rows);
    py::list inputs;
    for (const Varied& known : varied) inputs.append(std::string(known.name));
    m.attr("plan_inputs") = py::tuple(inputs);
}

}  // namespace ferment_python
