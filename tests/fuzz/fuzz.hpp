#pragma once
// A table of entries, each called with numbers that the fuzzer makes, and what must hold of every call. The checks are in fuzz.cpp.

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace fuzz {

/// A number to draw: mostly between the two, with the ends, their neighbours, what lies outside, and what is no number.
struct Input {
    double lower;
    double upper;
    bool whole = false;  ///< a count or an option: a whole number of the range or next to it, never NaN
};
constexpr Input option(const int count) {
    return {0.0, count - 1.0, true};
}

/// The numbers that a call gave.
class Results {
public:
    static constexpr std::size_t most = 96;
    Results& operator<<(const double y) {
        if (count_ < most) values_[count_++] = y;
        return *this;
    }
    [[nodiscard]] std::size_t size() const { return count_; }
    double operator[](const std::size_t i) const { return values_[i]; }

private:
    double values_[most];
    std::size_t count_ = 0;
};

using Call = void (*)(const double* x, Results& out);

// What is not asked of an entry. Each has its reason beside the entry.
enum rules : unsigned {
    usual = 0,
    unchecked = 1,          ///< a kernel that says so: any result; only never an exception
    derived = 2,            ///< its messages name a value that was worked out from the inputs
    nan_is_error = 4,       ///< a NaN among the inputs is an error: a plan with a hole in it is no plan
    infinite_is_fine = 8,   ///< grows beyond all numbers where the inputs do, or says "never" so
    nan_may_vanish = 16,    ///< an input that plays no part in some cases
    text_only = 64,         ///< its messages are of names, not of numbers
    nan_is_an_answer = 32,  ///< what cannot be said is NaN, as documented
};

struct Entry {
    std::string_view names;  ///< of the public functions in it, parted by spaces
    std::vector<Input> inputs;
    Call door = nullptr;    ///< checks and throws
    Call kernel = nullptr;  ///< NaN exactly where the door throws; never throws
    /// The first input of an inverse again, from its result y; the result lies in `range_back`.
    double (*back)(const double* x, double y) = nullptr;
    Input range_back{0.0, 1.0};
    unsigned rules = usual;
    std::size_t finite = Results::most;                           ///< so many of the results, from the first on, must be finite
    bool slow = false;                                            ///< a plan or a course: one call a unit
    bool (*check)(const double* x, const char** what) = nullptr;  ///< anything else that must hold; says what does not
};

/// The table of this executable.
std::vector<Entry> entries();

}  // namespace fuzz
