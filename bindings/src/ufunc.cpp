#include "elementwise.hpp"
// NumPy's headers come after Python's.
#include <numpy/arrayobject.h>
#include <numpy/ufuncobject.h>

#include <forward_list>
#include <memory>
#include <vector>

namespace ferment_python {

namespace {

int import_numpy() {
    import_array1(-1);
    import_umath1(-1);
    return 0;
}

}  // namespace

const char* keep_text(const std::string& text) {
    static std::forward_list<std::string> kept;
    return kept.emplace_front(text).c_str();
}

py::object make_ufunc(UfuncLoop loop, const std::size_t inputs, const char* name, const char* doc) {
    static_assert(sizeof(npy_intp) == sizeof(std::ptrdiff_t));
    static const bool ready = import_numpy() == 0;
    if (!ready) throw py::error_already_set();
    // A ufunc keeps pointers to these tables for as long as the interpreter lives.
    struct Tables {
        PyUFuncGenericFunction function[1] = {nullptr};
        void* data[1] = {nullptr};
        std::vector<char> types;
    };
    static std::vector<std::unique_ptr<Tables>> kept;
    auto tables = std::make_unique<Tables>();
    tables->function[0] = reinterpret_cast<PyUFuncGenericFunction>(loop);
    tables->types.assign(inputs + 1, static_cast<char>(NPY_DOUBLE));
    PyObject* ufunc = PyUFunc_FromFuncAndData(tables->function, tables->data, tables->types.data(), 1, static_cast<int>(inputs), 1, PyUFunc_None, name, doc, 0);
    if (ufunc == nullptr) throw py::error_already_set();
    kept.push_back(std::move(tables));
    return py::reinterpret_steal<py::object>(ufunc);
}

}  // namespace ferment_python
