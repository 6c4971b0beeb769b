// Drives a table of entries with libFuzzer. One unit of the fuzzer chooses an entry and seeds a row of calls: the first call takes its numbers from the
// bytes of the unit, the others from a generator that the unit seeds, so that a unit repeats itself exactly.
//
//   FERMENT_FUZZ_EXECUTIONS   stop when every entry has had so many calls (entries that take longer: calls for the same time)
//   FERMENT_FUZZ_GO_ON        1: print each kind of failure once and go on; else stop at the first
//   FERMENT_FUZZ_REPORT       file to which the executions per entry are written now and then, and at the end

#include "fuzz.hpp"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <bit>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <ferment/core/error.hpp>
#include <limits>
#include <set>
#include <string>

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace fuzz {
namespace {

constexpr std::size_t calls_per_unit = 64;
constexpr double round_trip = 1e-9;  // relative
constexpr std::size_t most_inputs = 48;
constexpr std::size_t header = 2;  // bytes that choose the entry

// ---- numbers ----

/// Bytes of the unit, then a generator seeded by all of them (splitmix64).
class Bytes {
public:
    Bytes(const std::uint8_t* data, const std::size_t size) : data_(data), left_(size) {
        for (std::size_t i = 0; i < size; ++i) state_ = (state_ ^ data[i]) * 0x100000001b3ULL;
    }
    void all_random() { left_ = 0; }
    std::uint64_t word() {
        std::uint64_t w = next();
        const std::size_t take = std::min(left_, sizeof w);
        std::memcpy(&w, data_, take);
        data_ += take;
        left_ -= take;
        return w;
    }
    std::size_t below(const std::size_t n) { return static_cast<std::size_t>(word() % n); }
    double share() { return static_cast<double>(word() >> 11) * 0x1p-53; }

private:
    std::uint64_t next() {
        state_ += 0x9e3779b97f4a7c15ULL;
        std::uint64_t z = state_;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
        return z ^ (z >> 31);
    }
    const std::uint8_t* data_;
    std::size_t left_;
    std::uint64_t state_ = 0xcbf29ce484222325ULL;
};

double nudged(double x, const int ulps) {
    constexpr double far = std::numeric_limits<double>::infinity();
    for (int i = 0; i < std::abs(ulps); ++i) x = std::nextafter(x, ulps < 0 ? -far : far);
    return x;
}

double within(Bytes& bytes, const Input in) {
    const double width = in.upper - in.lower;
    if (in.whole) return in.lower + static_cast<double>(bytes.below(static_cast<std::size_t>(width) + 1));
    switch (bytes.below(8)) {
        case 0: return bytes.below(2) == 0 ? in.lower : in.upper;
        case 1: return in.lower + width * std::ldexp(bytes.share(), -static_cast<int>(bytes.below(60)));
        case 2: return in.upper - width * std::ldexp(bytes.share(), -static_cast<int>(bytes.below(60)));
        default: return in.lower + width * bytes.share();
    }
}

double odd(Bytes& bytes, const Input in) {
    if (in.whole) {
        constexpr int beside = 2;
        return in.lower - beside + static_cast<double>(bytes.below(static_cast<std::size_t>(in.upper - in.lower) + 2 * beside + 1));
    }
    using limits = std::numeric_limits<double>;
    constexpr double special[] = {limits::quiet_NaN(),
                                  -limits::quiet_NaN(),
                                  limits::infinity(),
                                  -limits::infinity(),
                                  0.0,
                                  -0.0,
                                  limits::denorm_min(),
                                  -limits::denorm_min(),
                                  limits::max(),
                                  limits::lowest(),
                                  limits::min(),
                                  -limits::min(),
                                  1.0,
                                  -1.0,
                                  1e300,
                                  -1e-300};
    switch (bytes.below(5)) {
        case 0: return std::bit_cast<double>(bytes.word());
        case 1: return special[bytes.below(std::size(special))];
        case 2: return nudged(bytes.below(2) == 0 ? in.lower : in.upper, static_cast<int>(bytes.below(9)) - 4);
        case 3: return in.lower + (in.upper - in.lower) * (3.0 * bytes.share() - 1.0);
        default: return (bytes.below(2) == 0 ? 1.0 : -1.0) * std::ldexp(1.0 + bytes.share(), static_cast<int>(bytes.below(2100)) - 1074);
    }
}

void draw(const Entry& entry, Bytes& bytes, double* const x) {
    constexpr std::size_t all_within = 6, one_odd = 9, kinds = 10;  // of ten
    const std::size_t kind = bytes.below(kinds);
    const std::size_t n = entry.inputs.size();
    const std::size_t chosen = n == 0 ? 0 : bytes.below(n);
    for (std::size_t i = 0; i < n; ++i) {
        const bool is_odd = kind >= all_within && (kind >= one_odd ? bytes.below(2) == 0 : i == chosen);
        x[i] = is_odd ? odd(bytes, entry.inputs[i]) : within(bytes, entry.inputs[i]);
    }
    // An inverse is mostly asked for what the forward function gave.
    if (entry.back != nullptr && bytes.below(4) != 0) {
        try {
            x[0] = entry.back(x, within(bytes, entry.range_back));
        } catch (const ferment::Error&) {
            return;  // as drawn
        }
        if (bytes.below(4) == 0) x[0] = nudged(x[0], static_cast<int>(bytes.below(9)) - 4);
    }
}

// ---- what is counted ----

struct Count {
    std::uint64_t calls = 0;
    std::uint64_t accepted = 0;  // by the door
    double seconds = 0.0;
};

struct State {
    std::vector<Entry> table = entries();
    std::vector<Count> counts = std::vector<Count>(table.size());
    std::set<std::string> failures;
    std::uint64_t goal = 0;
    bool go_on = false;
    std::string report;
    std::chrono::steady_clock::time_point written = std::chrono::steady_clock::now();
};
State& state() {
    static State s;
    return s;
}

/// How far an entry has come. What takes longer than a few microseconds a call is content with the time of those.
double progress(const Count& c) {
    constexpr double usual_s = 10e-6;
    const double mean = c.calls == 0 ? 0.0 : c.seconds / static_cast<double>(c.calls);
    return static_cast<double>(c.calls) * std::max(1.0, mean / usual_s);
}
std::size_t least_advanced() {
    const auto& counts = state().counts;
    return static_cast<std::size_t>(std::min_element(counts.begin(), counts.end(), [](const Count& a, const Count& b) { return progress(a) < progress(b); }) -
                                    counts.begin());
}

void write_report(std::FILE* const to) {
    const State& s = state();
    for (std::size_t i = 0; i < s.table.size(); ++i) {
        const Count& c = s.counts[i];
        std::fprintf(to, "%12llu calls %3.0f %% accepted %10.2f us  %s\n", static_cast<unsigned long long>(c.calls),
                     c.calls == 0 ? 0.0 : 100.0 * static_cast<double>(c.accepted) / static_cast<double>(c.calls),
                     c.calls == 0 ? 0.0 : 1e6 * c.seconds / static_cast<double>(c.calls), std::string(s.table[i].names).c_str());
    }
    std::fprintf(to, "%zu entries, %zu kinds of failure\n", s.table.size(), s.failures.size());
}
void save_report() {
    if (state().report.empty()) return;
    if (std::FILE* const file = std::fopen(state().report.c_str(), "w")) {
        write_report(file);
        std::fclose(file);
    }
}
void at_end() {
    save_report();
    write_report(stdout);
    std::fflush(stdout);
}

// ---- what must hold ----

void fail(const Entry& entry, const double* const x, const std::string& kind, const std::string& detail) {
    std::string key = std::string(entry.names) + ": " + kind;
    if (!state().failures.insert(key).second) return;
    std::printf("FAILURE %s: %s\n   inputs", key.c_str(), detail.c_str());
    for (std::size_t i = 0; i < entry.inputs.size(); ++i) std::printf(" %.17g", x[i]);
    std::printf("\n");
    std::fflush(stdout);
    if (!state().go_on) std::abort();
}

/// Whether a message names one of the inputs, in the units that messages speak.
bool names_input(const std::string& message, const Entry& entry, const double* const x) {
    for (std::size_t i = 0; i < entry.inputs.size(); ++i) {
        for (const double scale : {1.0, 100.0, 1e-3, 1e3, 200.0}) {
            if (message.find(ferment::format_number(scale * x[i])) != std::string::npos) return true;
        }
        if (message.find(ferment::format_number(x[i] / 1e3)) != std::string::npos) return true;
    }
    return false;
}

void check_message(const Entry& entry, const double* const x, const char* const what, const bool names_value) {
    const std::string message(what);
    if (message.empty()) return fail(entry, x, "empty message", "");
    const auto unprintable = [](const char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; };
    if (std::any_of(message.begin(), message.end(), unprintable)) return fail(entry, x, "unprintable message", message);
    if (!names_value || (entry.rules & text_only) != 0) return;
    const auto is_digit = [](const char c) { return c >= '0' && c <= '9'; };
    const bool says_number = std::any_of(message.begin(), message.end(), is_digit) || message.find("inf") != std::string::npos;
    if ((entry.rules & derived) != 0 ? !says_number : !names_input(message, entry, x)) fail(entry, x, "message names no value", message);
}

bool same(const double a, const double b) {
    return a == b || (std::isnan(a) && std::isnan(b));
}

void run_once(const Entry& entry, Bytes& bytes, Count& count) {
    double x[most_inputs] = {};
    draw(entry, bytes, x);
    constexpr std::size_t seldom = 8;  // writing down every number that a message may name takes longer than the rest
    const bool thoroughly = bytes.below(seldom) == 0;
    bool any_nan = false;
    for (std::size_t i = 0; i < entry.inputs.size(); ++i) any_nan = any_nan || std::isnan(x[i]);
    ++count.calls;

    Results given;
    bool accepted = false;
    if (entry.door != nullptr) {
        try {
            entry.door(x, given);
            accepted = true;
        } catch (const ferment::RangeError& e) {
            check_message(entry, x, e.what(), thoroughly);
        } catch (const ferment::Error& e) {
            check_message(entry, x, e.what(), false);
        } catch (const std::exception& e) {
            fail(entry, x, "an exception that is no ferment::Error", e.what());
            return;
        }
    }
    Results computed;
    if (entry.kernel != nullptr) {
        try {
            entry.kernel(x, computed);
        } catch (const std::exception& e) {
            fail(entry, x, "the kernel throws", e.what());
            return;
        }
        if (entry.door == nullptr) {
            given = computed;
            accepted = true;
        }
    }
    if (accepted) ++count.accepted;
    if (accepted && (entry.rules & unchecked) == 0) {
        const std::size_t n = std::min(given.size(), entry.finite);
        for (std::size_t i = 0; i < n; ++i) {
            const bool number = !std::isnan(given[i]);
            const std::string detail = "result " + std::to_string(i) + " is " + ferment::format_number(given[i]);
            if (any_nan && (entry.rules & nan_is_error) != 0) fail(entry, x, "NaN was let in", detail);
            if (any_nan && i == 0 && number && (entry.rules & (nan_may_vanish | nan_is_error)) == 0) fail(entry, x, "NaN in, a number out", detail);
            if (!any_nan && !number && entry.door != nullptr && (entry.rules & nan_is_an_answer) == 0) fail(entry, x, "NaN for accepted inputs", detail);
            if (!any_nan && std::isinf(given[i]) && (entry.rules & infinite_is_fine) == 0) fail(entry, x, "infinite for accepted inputs", detail);
        }
    }
    if (entry.door != nullptr && entry.kernel != nullptr) {
        if (accepted) {
            for (std::size_t i = 0; i < std::min(given.size(), computed.size()); ++i) {
                if (!same(given[i], computed[i])) {
                    fail(entry, x, "door and kernel differ", ferment::format_number(given[i]) + " and " + ferment::format_number(computed[i]));
                }
            }
        } else if (!std::isnan(computed[0])) {
            fail(entry, x, "the door refuses what the kernel computes", ferment::format_number(computed[0]));
        }
    }
    if (accepted && entry.back != nullptr && !std::isnan(given[0])) {
        try {
            const double again = entry.back(x, given[0]);
            constexpr double smallest = 1e-12;
            if (!(std::abs(again - x[0]) <= round_trip * std::abs(x[0]) + smallest) && !std::isnan(again)) {
                fail(entry, x, "there and back is elsewhere", ferment::format_number(given[0]) + " leads to " + ferment::format_number(again));
            }
        } catch (const ferment::Error&) {
            (void)0;  // not accepted on the way back
        }
    }
    if (entry.check != nullptr) {
        const char* what = "";
        if (!entry.check(x, &what)) fail(entry, x, what, "");
    }
}

}  // namespace
}  // namespace fuzz

extern "C" int LLVMFuzzerInitialize(int*, char***) {
    using namespace fuzz;
    const auto variable = [](const char* const name) {
        const char* const text = std::getenv(name);
        return std::string(text == nullptr ? "" : text);
    };
    const std::string goal = variable("FERMENT_FUZZ_EXECUTIONS");
    state().goal = goal.empty() ? 0 : static_cast<std::uint64_t>(std::strtod(goal.c_str(), nullptr));
    state().go_on = variable("FERMENT_FUZZ_GO_ON") == "1";
    state().report = variable("FERMENT_FUZZ_REPORT");
    for (const Entry& e : state().table) {
        if (e.inputs.size() > most_inputs) std::abort();
    }
    std::atexit(at_end);
    return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most, unsigned) {
    using namespace fuzz;
    size = LLVMFuzzerMutate(data, size, most);
    if (size < header) return size;
    const std::size_t entry = least_advanced();
    data[0] = static_cast<std::uint8_t>(entry);
    data[1] = static_cast<std::uint8_t>(entry >> 8);
    return size;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace fuzz;
    if (size < header) return 0;
    State& s = state();
    const std::size_t which = (data[0] + 256U * data[1]) % s.table.size();
    const Entry& entry = s.table[which];
    Count& count = s.counts[which];
    const auto start = std::chrono::steady_clock::now();
    Bytes bytes(data + header, size - header);
    for (std::size_t i = 0; i < (entry.slow ? 1 : calls_per_unit); ++i) {
        run_once(entry, bytes, count);
        bytes.all_random();
    }
    const auto end = std::chrono::steady_clock::now();
    count.seconds += std::chrono::duration<double>(end - start).count();
    constexpr auto now_and_then = std::chrono::seconds(20);
    if (end - s.written > now_and_then) {
        s.written = end;
        save_report();
    }
    if (s.goal != 0 && progress(s.counts[least_advanced()]) >= static_cast<double>(s.goal)) {
        at_end();
        _exit(s.failures.empty() ? 0 : 1);  // not exit: libFuzzer takes that for a crash
    }
    return 0;
}
