#include "course.hpp"

#include <pybind11/numpy.h>

#include <cmath>
#include <cstddef>
#include <ferment/fermentation/simulate.hpp>
#include <string>
#include <vector>

#include "bill.hpp"
#include "elementwise.hpp"
#include "module.hpp"

namespace ferment_python {

using namespace ferment;

namespace {

template <class Of>
py::array_t<double> series(const std::vector<WashState>& course, const Of& of) {
    py::array_t<double> values(static_cast<py::ssize_t>(course.size()));
    double* at = values.mutable_data();
    for (std::size_t i = 0; i < course.size(); ++i) at[i] = of(course[i]);
    return values;
}

Inoculum inoculum_from(const py::dict& values) {
    return {values["yeast_kg"].cast<double>(), values["enzyme_dose"].cast<double>(), values["nutrients"].cast<double>()};
}

Vessel vessel_from(const py::dict& values) {
    return {values["heat_transfer_w_per_m2_k"].cast<double>(), values["sunshine_w"].cast<double>(), values["noon_hour"].cast<double>()};
}

Conditions conditions_from(const py::dict& values) {
    return {values["mash_c"].cast<double>(), ambient_from(values["ambient"].cast<py::dict>()), vessel_from(values["vessel"].cast<py::dict>())};
}

std::vector<std::pair<std::string, measured>> priors_from(const py::dict& values) {
    std::vector<std::pair<std::string, measured>> priors;
    for (const auto& [name, prior] : values) {
        const auto [median, spread] = prior.cast<std::pair<double, double>>();
        priors.emplace_back(name.cast<std::string>(), measured{median, spread});
    }
    return priors;
}

}  // namespace

Ambient ambient_from(const py::dict& values) {
    if (values.contains("hours")) {
        return Ambient::logged(values["hours"].cast<std::vector<double>>(), values["temperatures_c"].cast<std::vector<double>>());
    }
    return Ambient::day_night(values["mean_c"].cast<double>(), values["swing_c"].cast<double>(), values["warmest_hour"].cast<double>());
}

Fermentation Batch::fermentation() const {
    Fermentation f = Fermentation::of(bill, potential(bill, water_kg * kilogram, assumptions), inoculum, conditions);
    for (const auto& [name, prior] : priors) f.set_prior(name, prior.value, prior.standard_uncertainty);
    return f;
}

Batch batch_from(const py::dict& values) {
    return {bill_from(values["bill"].cast<py::list>()),
            values["water_kg"].cast<double>(),
            assumptions_from(values["assumptions"].cast<py::dict>()),
            inoculum_from(values["inoculum"].cast<py::dict>()),
            conditions_from(values["conditions"].cast<py::dict>()),
            priors_from(values["priors"].cast<py::dict>())};
}

kinetic_values<double> spreads_from(const py::dict& values) {
    kinetic_values<double> z{};
    for (const auto& [key, value] : values) {
        const auto name = key.cast<std::string>();
        std::size_t i = 0;
        while (i < kinetic::count && kinetic_table[i].name != name) ++i;
        if (i == kinetic::count) throw InputError("parameter \"" + name + "\" is not known; known are " + parameter_names());
        z[i] = value.cast<double>();
        ferment::detail::require_number("spreads of " + name, z[i]);
    }
    return z;
}

void bind_course(py::module_& m) {
    m.def("validate_inoculum", [](const double yeast_kg, const double enzyme_dose, const double nutrients) {
        ferment::detail::require_inoculum({yeast_kg, enzyme_dose, nutrients});
    });
    m.def("validate_vessel", [](const double heat_transfer, const double sunshine_w, const double noon_hour) {
        Conditions c;
        c.vessel = {heat_transfer, sunshine_w, noon_hour};
        ferment::detail::require_conditions(c);
    });
    m.def("validate_mash_temperature", [](const double mash_c) {
        Conditions c;
        c.mash_c = mash_c;
        ferment::detail::require_conditions(c);
    });
    m.def("validate_day_night",
          [](const double mean_c, const double swing_c, const double warmest_hour) { Ambient::day_night(mean_c, swing_c, warmest_hour); });
    m.def("validate_logged", [](const std::vector<double>& hours, const std::vector<double>& degrees) { Ambient::logged(hours, degrees); });
    m.def("ambient_at", [](const py::dict& ambient, const double hour) { return std::isnan(hour) ? hour : ambient_from(ambient).at(hour); });
    m.def("yeast_of_cells",
          [](const double million_cells_per_ml, const double mash_l) { return yeast_of_cells(million_cells_per_ml, mash_l * litre).value(); });
    m.def("kinetic_parameters", [] {
        py::list rows;
        for (const kinetic_parameter& p : kinetic_table) {
            rows.append(py::make_tuple(text(p.name), text(p.unit), p.median, p.spread, text(to_string(p.scale)), text(to_string(p.from)),
                                       text(to_string(p.status)), text(p.basis)));
        }
        return rows;
    });
    m.def("starch_forms", [] {
        py::list rows;
        for (const starch_form& row : starch_forms::rows) rows.append(py::make_tuple(text(row.form), percent * row.fast_share));
        return rows;
    });
    m.def("simulate", [](const py::dict& batch, const py::dict& spreads, const std::vector<double>& times_h, const double relative_tolerance,
                         const double absolute_tolerance, const double longest_step_h) {
        const Batch of = batch_from(batch);
        const kinetic_values<double> z = spreads_from(spreads);
        ode::Tolerance tolerance;
        tolerance.relative = relative_tolerance;
        tolerance.absolute = absolute_tolerance;
        tolerance.longest_step_h = longest_step_h;
        const Course course = [&] {
            const py::gil_scoped_release without_lock;
            return simulate(of.fermentation(), times_h, z, tolerance);
        }();
        py::dict d;
        for (const WashFigure& figure : wash_figures) {
            d[figure.name] = series(course.at, [&figure](const WashState& s) { return figure.scale * (s.*figure.member); });
        }
        d["iodine"] = series(course.at, [](const WashState& s) { return iodine_test::chance_positive(s.open_starch); });
        d["done_h"] = course.done_h;
        d["steps"] = course.steps;
        return d;
    });
    def_documented<[](double gas, double limit) { return or_nan([&] { return ventilation_m3_per_h(gas, limit); }); },
                   [](double gas, double limit) { ventilation_m3_per_h(gas, limit); }>(
        m, "ventilation_m3_per_h", "Fresh air that keeps a well-mixed room at or below a limit of carbon dioxide [m3/h].",
        std::array{Argument{"co2_l_per_h", "Carbon dioxide given off [L/h], 0 or more."},
                   Argument{"limit_ppm", "Most allowed in the air [ppm], 1000 to 40000."}},
        "Cubic metres per hour of outdoor air.", carbon_dioxide::limits_from.citation);
    const ode::Tolerance tolerance;
    m.attr("course_tolerance") = py::make_tuple(tolerance.relative, tolerance.absolute, tolerance.longest_step_h);
    m.attr("bare_wall_w_per_m2_k") = Vessel::bare;
    m.attr("co2_limit_8h_ppm") = carbon_dioxide::limit_8h_ppm;
}

}  // namespace ferment_python
