#include <ferment/sources.hpp>
#include <string>

#include "module.hpp"

namespace ferment_python {

namespace py = pybind11;

void bind_core(py::module_& m) {
    m.def("sources", [] {
        py::list rows;
        for (const ferment::listed_source& listed : ferment::sources()) {
            const auto text = [](const std::string_view s) { return py::str(std::string(s)); };
            py::dict row;
            row["folder"] = text(listed.folder);
            row["name"] = text(listed.from.name);
            row["quantity"] = text(listed.from.quantity);
            row["citation"] = text(listed.from.citation);
            row["range"] = text(listed.from.range);
            row["uncertainty"] = text(listed.from.uncertainty);
            row["status"] = text(ferment::to_string(listed.from.status));
            rows.append(row);
        }
        return rows;
    });
}

}  // namespace ferment_python
