#include "module.hpp"

#include <ferment/core/error.hpp>

namespace py = pybind11;

PYBIND11_MODULE(_core, m) {
    m.doc() = "The compiled part of ferment; use the package's own modules.";
    m.attr("__version__") = FERMENT_VERSION;
    py::register_exception<ferment::Error>(m, "Error", PyExc_ValueError);
    const py::object base = m.attr("Error");
    py::register_exception<ferment::RangeError>(m, "RangeError", base);
    py::register_exception<ferment::InputError>(m, "InputError", base);
    py::register_exception<ferment::SolveError>(m, "SolveError", base);
    // People meet them as ferment.RangeError, so that is what a traceback should say.
    for (const char* name : {"Error", "RangeError", "InputError", "SolveError"}) m.attr(name).attr("__module__") = "ferment";
    ferment_python::bind_instruction_set(m);
    ferment_python::bind_core(m);
    ferment_python::bind_liquid(m);
    ferment_python::bind_refraction(m);
    ferment_python::bind_vapour(m);
    ferment_python::bind_enthalpy(m);
    ferment_python::bind_instrument(m);
    ferment_python::bind_strength(m);
    ferment_python::bind_strength_without_og(m);
    ferment_python::bind_mash(m);
    ferment_python::bind_fermentation(m);
    ferment_python::bind_course(m);
    ferment_python::bind_forecast(m);
    ferment_python::bind_still(m);
    ferment_python::bind_still_column(m);
    ferment_python::bind_still_congeners(m);
    ferment_python::bind_still_cuts(m);
    ferment_python::bind_proofing(m);
    ferment_python::bind_batch(m);
    ferment_python::bind_plans(m);
}
