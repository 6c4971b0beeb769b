#pragma once
// What stands between the C functions and the C++ behind them: no exception crosses, and structs of older and newer programs are understood.

#include <ferment/c.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <exception>
#include <ferment/core/error.hpp>
#include <limits>
#include <new>
#include <stdexcept>
#include <string>
#include <type_traits>
#include <vector>

namespace ferment_c {

// ---- errors ----

/// The message of the last failed call of each thread. A fixed buffer: to say that there is no memory must not need any.
inline constexpr std::size_t message_size = 4096;
inline thread_local char last_message[message_size] = "";

inline void remember(const char* const message) noexcept {
    std::size_t i = 0;
    for (; i + 1 < message_size && message[i] != '\0'; ++i) last_message[i] = message[i];
    last_message[i] = '\0';
}

/// The status of the exception that is being handled; its message is remembered. Call it in a handler only.
inline enum ferment_status status_of_exception() noexcept {
    try {
        throw;
    } catch (const ferment::RangeError& e) {
        remember(e.what());
        return FERMENT_OUT_OF_RANGE;
    } catch (const ferment::InputError& e) {
        remember(e.what());
        return FERMENT_BAD_INPUT;
    } catch (const ferment::SolveError& e) {
        remember(e.what());
        return FERMENT_NO_SOLUTION;
    } catch (const std::bad_alloc&) {
        remember("out of memory");
        return FERMENT_OUT_OF_MEMORY;
    } catch (const std::length_error&) {  // a container that no memory could hold
        remember("out of memory");
        return FERMENT_OUT_OF_MEMORY;
    } catch (const std::exception& e) {
        remember(e.what());
        return FERMENT_INTERNAL;
    } catch (...) {
        remember("an exception that says nothing");
        return FERMENT_INTERNAL;
    }
}

/// Runs a function; FERMENT_OK, or the status of what it threw.
template <class F>
enum ferment_status guarded(const F& f) noexcept {
    try {
        f();
        return FERMENT_OK;
    } catch (...) {
        return status_of_exception();
    }
}

// ---- arguments ----

template <class T>
void require_pointer(const T* const pointer, const char* const name) {
    if (pointer == nullptr) throw ferment::InputError(std::string(name) + " is NULL");
}

/// A value of an enumeration that counts from zero. InputError for any other.
template <class E>
E choice(const std::int64_t value, const int count, const char* const name) {
    if (value < 0 || value >= count) {
        throw ferment::InputError(std::string(name) + " " + std::to_string(value) + " is not known; allowed are 0 to " + std::to_string(count - 1));
    }
    return static_cast<E>(value);
}

inline constexpr double no_number = std::numeric_limits<double>::quiet_NaN();

template <class... X>
bool any_nan(const X... x) {
    return (std::isnan(x) || ...);
}

// ---- structs that can grow ----

/// The size a struct had in the first release of this interface. When fields are added, it is stated here as a number.
template <class S>
inline constexpr std::size_t first_size = sizeof(S);

/// A struct with its usual values; every struct that is an input has one.
template <class S>
S usual();

template <class S>
void require_size(const std::size_t size, const char* const name) {
    constexpr std::size_t absurd = 65536;  // bytes; most likely it was never set
    if (size < first_size<S> || size > absurd) {
        throw ferment::InputError("size " + std::to_string(size) + " of " + name + " is no size of that struct; set it to sizeof, which is " +
                                  std::to_string(sizeof(S)) + " bytes in this library");
    }
}

/// Fills in the usual values.
template <class S>
enum ferment_status init(S* const to, const std::size_t size, const char* const name) noexcept {
    static_assert(std::is_trivially_copyable_v<S>);
    return guarded([&] {
        require_pointer(to, name);
        require_size<S>(size, name);
        S values = usual<S>();
        values.size = size;
        std::memset(static_cast<void*>(to), 0, size);
        std::memcpy(static_cast<void*>(to), &values, std::min(size, sizeof(S)));
    });
}

/// What a program of any age says: fields it does not know have their usual values. InputError where it sets fields that this library does not know.
template <class S>
S taken(const S* const given, const char* const name) {
    static_assert(std::is_trivially_copyable_v<S>);
    require_pointer(given, name);
    require_size<S>(given->size, name);
    S values = usual<S>();
    std::memcpy(static_cast<void*>(&values), given, std::min(given->size, sizeof(S)));
    const auto* const bytes = reinterpret_cast<const unsigned char*>(given);
    for (std::size_t i = sizeof(S); i < given->size; ++i) {
        if (bytes[i] != 0) throw ferment::InputError(std::string(name) + " sets what this version of the library does not know");
    }
    values.size = sizeof(S);
    return values;
}

/// Checks a struct for a result.
template <class S>
void require_result(const S* const to, const char* const name) {
    require_pointer(to, name);
    require_size<S>(to->size, name);
}

/// Writes as much of a result as the program knows.
template <class S>
void give(S* const to, S values) {
    static_assert(std::is_trivially_copyable_v<S>);
    values.size = to->size;
    std::memcpy(static_cast<void*>(to), &values, std::min(values.size, sizeof(S)));
}

// ---- numbers in, one number out ----

/// NaN where an input is NaN; else what the formula gives or throws.
template <class F, class... X>
double value_or_error(const F& formula, const X... x) {
    if (any_nan(x...)) return no_number;
    const double y = formula(x...);
    if (std::isnan(y)) throw ferment::SolveError("no result for these inputs, although each is in its range");
    return y;
}

/// make() checks the options and gives the formula.
template <class Make, class... X>
enum ferment_status one(double* const result, const Make& make, const X... x) noexcept {
    return guarded([&] {
        require_pointer(result, "pointer to the result");
        *result = value_or_error(make(), x...);
    });
}

/// The same for arrays of n.
template <class Make, class... X>
enum ferment_status each(const std::size_t n, const int outside, double* const result, std::size_t* const first_bad, const Make& make,
                         const X* const... x) noexcept {
    return guarded([&] {
        const bool stop = choice<enum ferment_outside>(outside, FERMENT_NAN + 1, "what happens outside the range") == FERMENT_STOP;
        const auto formula = make();
        std::size_t bad = n;
        if (n != 0) {
            require_pointer(result, "pointer to the results");
            (require_pointer(x, "pointer to inputs"), ...);
            // Collected first: nothing is written on errors, and the results may overlap the inputs.
            std::vector<double> y(n);
            const auto refused = [&](const std::size_t i) {
                bad = std::min(bad, i);
                y[i] = no_number;
                if (!stop) return std::string();
                if (first_bad != nullptr) *first_bad = i;
                return "element [" + std::to_string(i) + "]: ";
            };
            for (std::size_t i = 0; i < n; ++i) {
                try {
                    y[i] = value_or_error(formula, x[i]...);
                } catch (const ferment::RangeError& e) {
                    if (const std::string where = refused(i); stop) throw ferment::RangeError(where + e.what());
                } catch (const ferment::InputError& e) {
                    if (const std::string where = refused(i); stop) throw ferment::InputError(where + e.what());
                } catch (const ferment::SolveError& e) {
                    if (const std::string where = refused(i); stop) throw ferment::SolveError(where + e.what());
                }
            }
            std::memcpy(result, y.data(), n * sizeof(double));
        }
        if (first_bad != nullptr) *first_bad = bad;
    });
}

}  // namespace ferment_c
