#pragma once
// One way for a formula to become a Python function: a plain float goes straight to the kernel, anything else through a NumPy ufunc made
// of the same kernel, so that broadcasting, out=, xarray and dask work. Where a result is NaN although no input was, the typed door of the
// library is asked for the error, which then names quantity, value, unit and range. Numbers with uncertainty, which no ufunc takes, go to
// ferment/_uncertain.py, which asks the same function for its slopes.

#include <pybind11/pybind11.h>

#include <array>
#include <atomic>
#include <cfenv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/core/array_solve.hpp>
#include <ferment/core/error.hpp>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "instruction_set.hpp"

namespace ferment_python {

namespace py = pybind11;

using UfuncLoop = void (*)(char**, const std::ptrdiff_t*, const std::ptrdiff_t*, void*);

/// A NumPy ufunc of `inputs` doubles to one double; the only thing here that needs NumPy's C interface (ufunc.cpp).
py::object make_ufunc(UfuncLoop loop, std::size_t inputs, const char* name, const char* doc);

/// Keeps a text for as long as the interpreter lives and gives a pointer to it: a ufunc does not copy its documentation.
const char* keep_text(const std::string& text);

/// An argument of an elementwise function: its name, what it means with unit and range, and what it is where it is left out.
struct Argument {
    const char* name;
    std::string_view meaning;
    std::optional<double> usual = std::nullopt;
};

/// Set by a loop that met an element outside the range; read and cleared by the Python door of the same thread.
inline thread_local bool out_of_range_seen = false;

/// Elements that a loop takes at a time: their inputs and outputs together fit the first-level cache.
inline constexpr std::ptrdiff_t largest_block = 512;

namespace detail {

template <std::size_t>
using always_double = double;
template <std::size_t>
using always_object = py::object;

inline double element(const py::object& array, const py::object& i) {
    return array[i].cast<double>();
}

/// "2, 5" for the element in row 2, column 5.
inline std::string index_text(const py::tuple& where) {
    std::string text;
    for (const py::handle k : where) {
        text.append(text.empty() ? "" : ", ").append(std::to_string(k.cast<long>()));
    }
    return text;
}

/// The loop over elements: out[i] = value(in[0][i], in[1][i], ...). Says whether a result is NaN although no input was.
template <class Formula, std::size_t... I>
bool run_elements(const double* const* in, double* out, const std::ptrdiff_t n) {
    const std::array<const double*, sizeof...(I)> x{in[I]...};
    if constexpr (requires { Formula::elements(in, out, n); }) {
        Formula::elements(in, out, n);
    } else {
        for (std::ptrdiff_t i = 0; i < n; ++i) out[i] = Formula::value(x[I][i]...);
    }
    // A loop of its own, with comparisons instead of isnan and without short cuts: so both become vector instructions.
    std::int64_t bad = 0;
    for (std::ptrdiff_t i = 0; i < n; ++i) {
        // NOLINTNEXTLINE(misc-redundant-expression): only NaN differs from itself
        bad |= static_cast<std::int64_t>(out[i] != out[i]) & (static_cast<std::int64_t>(x[I][i] == x[I][i]) & ...);
    }
    return bad != 0;
}

template <class Formula, std::size_t... I>
FERMENT_BASELINE bool run_baseline(const double* const* in, double* out, const std::ptrdiff_t n) {
    return run_elements<Formula, I...>(in, out, n);
}
#if FERMENT_HAS_X86_64_LEVELS
template <class Formula, std::size_t... I>
FERMENT_X86_64_V3 bool run_v3(const double* const* in, double* out, const std::ptrdiff_t n) {
    return run_elements<Formula, I...>(in, out, n);
}
template <class Formula, std::size_t... I>
FERMENT_X86_64_V4 bool run_v4(const double* const* in, double* out, const std::ptrdiff_t n) {
    return run_elements<Formula, I...>(in, out, n);
}
#endif

/// The same in the instruction set in use. A single value takes the same way, so that it equals that of an array bit for bit.
template <class Formula, std::size_t... I>
bool run(const double* const* in, double* out, const std::ptrdiff_t n) {
    if constexpr (requires { requires Formula::wide; }) {
#if FERMENT_HAS_X86_64_LEVELS
        switch (instruction_set_in_use.load(std::memory_order_relaxed)) {
            case InstructionSet::x86_64_v4: return run_v4<Formula, I...>(in, out, n);
            case InstructionSet::x86_64_v3: return run_v3<Formula, I...>(in, out, n);
            case InstructionSet::baseline: break;
        }
#endif
        return run_baseline<Formula, I...>(in, out, n);
    }
    return run_elements<Formula, I...>(in, out, n);
}

/// A TypeError that says which word or value of a call is wrong, where pybind11 would list signatures.
[[noreturn]] inline void refuse_call(const char* name, const py::list& words, const py::tuple& positional, const py::dict& named) {
    const py::object message = py::module_::import("ferment._keywords").attr("explain")(name, words, positional, named);
    throw py::type_error(message.cast<std::string>());
}

template <class Formula, std::size_t... I>
struct Door {
    static constexpr std::size_t inputs = sizeof...(I);
    static constexpr std::ptrdiff_t block = largest_block;

    static void loop(char** data, const std::ptrdiff_t* sizes, const std::ptrdiff_t* steps, void*) {
        constexpr auto dense = static_cast<std::ptrdiff_t>(sizeof(double));
        const std::ptrdiff_t n = sizes[0];
        // Strided elements, and a single value that goes with an array, are laid out side by side first. So are inputs that the result is written over:
        // whether an input was NaN is asked afterwards.
        double gathered[inputs][block];
        double result[block];
        bool bad = false;
        for (std::ptrdiff_t start = 0; start < n; start += block) {
            const std::ptrdiff_t length = n - start < block ? n - start : block;
            char* to = data[inputs] + start * steps[inputs];
            const double* in[inputs];
            for (std::size_t k = 0; k < inputs; ++k) {
                const char* from = data[k] + start * steps[k];
                in[k] = reinterpret_cast<const double*>(from);
                if (steps[k] == dense && from != to) continue;
                in[k] = gathered[k];
                if (steps[k] == 0 && start > 0) continue;  // still there from the first block
                for (std::ptrdiff_t i = 0; i < length; ++i) gathered[k][i] = *reinterpret_cast<const double*>(from + i * steps[k]);
            }
            if (steps[inputs] == dense) {
                bad |= run<Formula, I...>(in, reinterpret_cast<double*>(to), length);
            } else {
                bad |= run<Formula, I...>(in, result, length);
                for (std::ptrdiff_t i = 0; i < length; ++i) *reinterpret_cast<double*>(to + i * steps[inputs]) = result[i];
            }
        }
        std::feclearexcept(FE_ALL_EXCEPT);  // NaN is an answer here, not a warning of NumPy's
        out_of_range_seen |= bad;
    }

    static double scalar(always_double<I>... x) {
        const double* const in[] = {&x...};
        double y = 0.0;
        if (run<Formula, I...>(in, &y, 1)) refuse(x...);
        return y;
    }

    [[noreturn]] static void refuse(always_double<I>... x) {
        Formula::check(x...);
        throw ferment::SolveError("no result for these inputs, although each is in its range");
    }

    /// Finds the first element of a result y that is NaN without a NaN input, and throws its error with the index in front.
    static void refuse_first(const py::object& y, const std::array<py::object, inputs>& x) {
        const py::module_ numpy = py::module_::import("numpy");
        const py::list arrays(numpy.attr("broadcast_arrays")(numpy.attr("asarray")(x[I], py::arg("dtype") = "float64")...));
        py::object bad = numpy.attr("isnan")(numpy.attr("asarray")(y));
        ((bad = numpy.attr("logical_and")(bad, numpy.attr("logical_not")(numpy.attr("isnan")(arrays[I])))), ...);
        const py::object i = numpy.attr("argmax")(bad);
        const double at[] = {element(numpy.attr("ravel")(arrays[I]), i)...};
        try {
            refuse(at[I]...);
        } catch (const ferment::Error& e) {
            const std::string index = index_text(py::tuple(numpy.attr("unravel_index")(i, arrays[0].attr("shape"))));
            throw ferment::RangeError(index.empty() ? std::string(e.what()) : "element [" + index + "]: " + e.what());
        }
    }

    static bool shares_memory(const py::object& a, const py::object& b) {
        const py::module_ numpy = py::module_::import("numpy");
        const auto is_array = [&](const py::object& x) { return py::isinstance(x, numpy.attr("ndarray")); };
        return is_array(a) && is_array(b) && numpy.attr("may_share_memory")(a, b).cast<bool>();
    }

    static py::object arrays(const py::handle module, const char* name, const py::list& words, const py::object& ufunc, const std::string& out_of_range,
                             const py::object& out, const std::array<py::object, inputs>& x) {
        if (out_of_range != "raise" && out_of_range != "nan") {
            throw ferment::InputError("out_of_range " + ferment::in_quotes(out_of_range) + " must be \"raise\" or \"nan\"");
        }
        out_of_range_seen = false;
        py::object y;
        try {
            // Written over an input, the bad element could not be named any more.
            const bool over_input = !out.is_none() && out_of_range == "raise" && (shares_memory(out, x[I]) || ...);
            y = out.is_none() || over_input ? ufunc(x[I]...) : ufunc(x[I]..., py::arg("out") = out);
            if (over_input && !out_of_range_seen) {
                py::module_::import("numpy").attr("copyto")(out, y);
                y = out;
            }
        } catch (const py::error_already_set& e) {
            if (!e.matches(PyExc_TypeError)) throw;
            const py::module_ uncertain = py::module_::import("ferment._uncertain");
            if (!uncertain.attr("holds_uncertain")(x[I]...).template cast<bool>()) refuse_call(name, words, py::make_tuple(x[I]...), py::dict());
            return uncertain.attr("propagate")(module.attr(name), py::make_tuple(x[I]...), out_of_range, out);
        }
        if (std::exchange(out_of_range_seen, false) && out_of_range == "raise") refuse_first(y, x);
        return y;
    }
};

/// The name of an argument and, where it can be left out, its usual value.
template <bool CanBeLeftOut>
auto named(const Argument& argument, const bool convert) {
    py::arg name(argument.name);
    name.noconvert(!convert);
    if constexpr (CanBeLeftOut) {
        return name = *argument.usual;
    } else {
        return name;
    }
}

template <class Formula, std::size_t LeftOut, class Indices>
struct door_of;
template <class Formula, std::size_t LeftOut, std::size_t... I>
struct door_of<Formula, LeftOut, std::index_sequence<I...>> {
    static void define(py::module_& m, const char* name, const std::array<Argument, sizeof...(I)>& arguments, const char* doc) {
        using D = Door<Formula, I...>;
        constexpr std::size_t needed = sizeof...(I) - LeftOut;
        // One signature and one text for both overloads, instead of a list of them.
        py::options options;
        options.disable_function_signatures();
        std::string text = std::string(name) + "(";
        ((text += std::string(arguments[I].name) + usual_text(arguments[I]) + ", "), ...);
        text.append("*, out_of_range=\"raise\", out=None)\n\n").append(doc);
        m.def(name, &D::scalar, named<(I >= needed)>(arguments[I], false)..., text.c_str());
        const py::object ufunc = make_ufunc(&D::loop, D::inputs, name, doc);
        py::list words;
        (words.append(arguments[I].name), ...);
        words.append("out_of_range");
        words.append("out");
        m.def(
            name,
            [ufunc, module = py::handle(m), name, words](always_object<I>... x, const std::string& out_of_range, const py::object& out) {
                return D::arrays(module, name, words, ufunc, out_of_range, out, std::array<py::object, D::inputs>{std::move(x)...});
            },
            named<(I >= needed)>(arguments[I], true)..., py::kw_only(), py::arg("out_of_range") = "raise", py::arg("out") = py::none());
        // Reached when neither of them takes the call.
        m.def(name, [name, words](const py::args& positional, const py::kwargs& named_ones) { refuse_call(name, words, positional, named_ones); });
    }

private:
    static std::string usual_text(const Argument& argument) { return argument.usual ? std::string("=").append(ferment::format_number(*argument.usual)) : ""; }
};

}  // namespace detail

/// The text of help(): the same sections in the same order for every function.
template <std::size_t N>
std::string document(const std::string_view summary, const std::array<Argument, N>& arguments, const std::string_view result, const std::string_view source) {
    std::string text(summary);
    text.append("\n\nParameters\n----------\n");
    for (const Argument& argument : arguments) {
        text.append(argument.name).append(" : float or array_like");
        if (argument.usual) text.append(", default ").append(ferment::format_number(*argument.usual));
        text.append("\n    ").append(argument.meaning).append("\n");
    }
    text.append(
        "out_of_range : {\"raise\", \"nan\"}\n    What happens outside the range: an error, or NaN for that element. A lazy array of dask never raises: an "
        "element\n"
        "    outside is NaN once it is computed.\n");
    text.append("\nReturns\n-------\nfloat or ndarray\n    ").append(result).append(" NaN where an input is NaN.\n");
    text.append("\nRaises\n------\nRangeError\n    For a value outside its range; in arrays for the first such element, with its index.\n");
    text.append("\nReferences\n----------\n").append(source).append("\n");
    return text;
}

/// Defines m.<name> for a Formula with
///   static double value(double...)   the kernel: NaN outside its range, never throws
///   static void check(double...)     throws the error for inputs that value() refuses
///   static void elements(const double* const* in, double* out, std::ptrdiff_t n)
///                                      in place of value(): a whole block, of at most `largest_block` elements, at once
///   static constexpr bool wide = true  where the loop over it shall be compiled for several instruction sets
/// The last `LeftOut` arguments can be left out.
template <class Formula, std::size_t LeftOut = 0, std::size_t N>
void def_elementwise(py::module_& m, const char* name, const std::array<Argument, N>& arguments, const std::string& doc) {
    detail::door_of<Formula, LeftOut, std::make_index_sequence<N>>::define(m, name, arguments, keep_text(doc));
}
template <class Formula, std::size_t N>
void def_elementwise(py::module_& m, const char* name, const std::array<const char*, N>& names, const std::string& doc) {
    std::array<Argument, N> arguments{};
    for (std::size_t i = 0; i < N; ++i) arguments[i].name = names[i];
    def_elementwise<Formula>(m, name, arguments, doc);
}

template <auto Value, auto Check, bool Wide = false>
struct FormulaOf {
    static constexpr bool wide = Wide;
    template <class... X>
    static double value(const X... x) {
        return Value(x...);
    }
    template <class... X>
    static void check(const X... x) {
        Check(x...);
    }
};

/// A value by a door that throws: NaN where it refuses. For formulas whose range is only known to the door.
template <class F>
double or_nan(const F& door) {
    try {
        return door();
    } catch (const ferment::Error&) {
        return std::numeric_limits<double>::quiet_NaN();
    }
}

template <auto Of>
struct DoorFormula {
    template <class... X>
    static double value(const X... x) {
        return or_nan([&] { return Of(x...); });
    }
    template <class... X>
    static void check(const X... x) {
        Of(x...);
    }
};

/// The same from a value and a check given as lambdas without captures, with the documentation made of its parts.
template <auto Value, auto Check, std::size_t LeftOut = 0, std::size_t N>
void def_documented(py::module_& m, const char* name, const std::string_view summary, const std::array<Argument, N>& arguments, const std::string_view result,
                    const std::string_view source) {
    def_elementwise<FormulaOf<Value, Check>, LeftOut>(m, name, arguments, document(summary, arguments, result, source));
}

/// The same for a value that is plain arithmetic, without search, branch or exception: its loop becomes vector instructions.
template <auto Value, auto Check, std::size_t N>
void def_wide(py::module_& m, const char* name, const std::string_view summary, const std::array<Argument, N>& arguments, const std::string_view result,
              const std::string_view source) {
    def_elementwise<FormulaOf<Value, Check, true>>(m, name, arguments, document(summary, arguments, result, source));
}

/// The same from a door alone, for formulas whose range only the door knows.
template <auto Of, std::size_t LeftOut = 0, std::size_t N>
void def_door(py::module_& m, const char* name, const std::string_view summary, const std::array<Argument, N>& arguments, const std::string_view result,
              const std::string_view source) {
    def_elementwise<DoorFormula<Of>, LeftOut>(m, name, arguments, document(summary, arguments, result, source));
}

/// An inverse that is the root of a polynomial: a Problem of num::solve_array, what its first input is made of, and what becomes of its result.
template <class Problem, auto Check, auto Before, auto After>
struct InverseFormula {
    static constexpr bool wide = true;
    static void elements(const double* const* in, double* out, const std::ptrdiff_t n) {
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
        std::array<double, static_cast<std::size_t>(largest_block)> first;
        for (std::ptrdiff_t i = 0; i < n; ++i) first[static_cast<std::size_t>(i)] = Before(in[0][i]);
        std::array<const double*, Problem::inputs> prepared{};
        for (std::size_t k = 0; k < Problem::inputs; ++k) prepared[k] = k == 0 ? first.data() : in[k];
        ferment::num::solve_array<Problem>(prepared.data(), out, n);
        for (std::ptrdiff_t i = 0; i < n; ++i) out[i] = After(out[i]);
    }
    template <class... X>
    static void check(const X... x) {
        Check(x...);
    }
};

/// The same from such an inverse.
template <class Problem, auto Before, auto After, auto Check, std::size_t N>
void def_inverse(py::module_& m, const char* name, const std::string_view summary, const std::array<Argument, N>& arguments, const std::string_view result,
                 const std::string_view source) {
    def_elementwise<InverseFormula<Problem, Check, Before, After>>(m, name, arguments, document(summary, arguments, result, source));
}

/// An argument that may be left out, with what it is then.
constexpr Argument usually(Argument argument, const double value) {
    argument.usual = value;
    return argument;
}

}  // namespace ferment_python
