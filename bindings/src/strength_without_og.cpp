#include <pybind11/stl.h>

#include <ferment/strength/combine.hpp>
#include <ferment/strength/without_og.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "edge.hpp"
#include "estimate.hpp"
#include "module.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

using Terms = std::vector<std::pair<double, Uncertain>>;

/// A value that moves with inputs: for each the slope and the input.
Uncertain dependent(const double value, const Terms& terms) {
    Uncertain sum(value);
    for (const auto& [slope, input] : terms) sum += slope * (input - input.value());
    return sum;
}

/// What ferment/strength.py makes a FoundStrength from; the object itself goes to combine.
py::dict found_values(const FoundStrength& f) {
    py::dict d;
    d["route"] = f.route;
    d["abv"] = estimate(f.abv, percent);
    d["abw"] = estimate(f.abw, percent);
    d["real_extract"] = estimate(f.real_extract, percent);
    d["dominated_by"] = f.dominated_by;
    return d;
}

py::dict combined_values(const CombinedStrength& c) {
    py::list agreements;
    for (const Agreement& a : c.agreements) agreements.append(py::make_tuple(a.route, a.weight, a.deviation));
    py::dict d;
    d["abv"] = estimate(c.abv, percent);
    d["agreements"] = agreements;
    d["chi_square"] = c.chi_square;
    d["chance"] = percent * c.chance;
    d["consistent"] = c.consistent;
    d["outlier"] = c.outlier;
    return d;
}

Uncertain fraction(const Uncertain& in_percent) {
    return in_percent / percent;
}

}  // namespace

void bind_strength_without_og(py::module_& m) {
    // The inputs of a strength and the strength found, opaque: they know what they share. No names of the module: nobody makes them by hand.
    const py::class_<Uncertain> input(py::handle(), "Input");
    py::class_<FoundStrength> found(py::handle(), "Found");
    found.def("values", &found_values);
    m.def("independent_input", &Uncertain::input, py::arg("value"), py::arg("standard_uncertainty"), py::arg("name"), py::pos_only());
    m.def("dependent_input", &dependent, py::arg("value"), py::arg("terms"), py::pos_only());

    m.def("found_by_hydrometer_and_refractometer",
          [](const Uncertain& gravity, const Uncertain& refractive_index) { return strength_from_hydrometer_and_refractometer(gravity, refractive_index); });
    m.def("found_by_hydrometer_and_brix", [](const Uncertain& gravity, const Uncertain& brix) {
        require_inside("brix", brix.value(), "degBx", {0.0, percent * sucrose_refraction::extract_range.upper}, sucrose_refraction::from);
        const Uncertain reference_c(sucrose_refraction::reference_c);
        return strength_from_hydrometer_and_refractometer(gravity, sucrose_refraction::index(fraction(brix), reference_c));
    });
    m.def("found_by_boiling_down", [](const Uncertain& before, const Uncertain& after, const bool to_mass) {
        return strength_from_boiled_down(before, after, to_mass ? made_up_to::mass : made_up_to::volume);
    });
    m.def("found_by_tabarie", &strength_by_tabarie);
    m.def("found_by_co2_loss", [](const Uncertain& lost_kg, const Uncertain& wash_l, const Uncertain& gravity, const Uncertain& temperature_c,
                                  const Uncertain& pressure_kpa, const bool airlock) {
        return strength_from_carbon_dioxide_lost({lost_kg, wash_l, temperature_c, pressure_kpa, airlock}, gravity);
    });
    m.def("found_by_boiling_point", &strength_from_boiling_point);
    m.def("found_by_distilling", [](const Uncertain& distillate_abv, const Uncertain& distillate_ml, const Uncertain& sample_ml, const Uncertain& gravity,
                                    const std::optional<std::pair<double, double>>& recovery) {
        const Uncertain abv = fraction(distillate_abv);
        if (!recovery) return strength_from_distilled_sample(abv, distillate_ml, sample_ml, gravity);
        return strength_from_distilled_sample(abv, distillate_ml, sample_ml, gravity, {recovery->first / percent, recovery->second / percent});
    });
    m.def("combine", [](const std::vector<FoundStrength>& strengths) { return combined_values(combine(strengths)); });
}

}  // namespace ferment_python
