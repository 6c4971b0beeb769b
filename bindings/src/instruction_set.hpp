#pragma once
// Array loops are compiled for several instruction sets; the widest that the processor has is picked when the module is loaded. Other processors
// and compilers have the baseline only.

#include <array>
#include <atomic>
#include <string>
#include <string_view>
#include <vector>

namespace ferment_python {

enum class InstructionSet { baseline, x86_64_v3, x86_64_v4 };
inline constexpr std::array<std::string_view, 3> instruction_set_names{"baseline", "x86-64-v3", "x86-64-v4"};

#if defined(__x86_64__) && defined(__GNUC__)
#define FERMENT_HAS_X86_64_LEVELS 1
// Everything a loop calls is compiled with it, for its instruction set.
#define FERMENT_BASELINE __attribute__((flatten, noinline))
#define FERMENT_X86_64_V3 __attribute__((target("arch=x86-64-v3"), flatten, noinline))
#define FERMENT_X86_64_V4 __attribute__((target("arch=x86-64-v4,prefer-vector-width=512"), flatten, noinline))
#else
#define FERMENT_HAS_X86_64_LEVELS 0
#define FERMENT_BASELINE
#endif

/// The one in use. Loops read it at every call.
inline std::atomic<InstructionSet> instruction_set_in_use{InstructionSet::baseline};

namespace detail {

#if FERMENT_HAS_X86_64_LEVELS
template <class F>
FERMENT_BASELINE void call_baseline(const F& f) {
    f();
}
template <class F>
FERMENT_X86_64_V3 void call_v3(const F& f) {
    f();
}
template <class F>
FERMENT_X86_64_V4 void call_v4(const F& f) {
    f();
}
#endif

}  // namespace detail

/// f(), compiled with all that it calls for each instruction set, in the one in use. Heavy work is given to it once, not from every template.
template <class F>
void in_widest(const F& f) {
#if FERMENT_HAS_X86_64_LEVELS
    switch (instruction_set_in_use.load(std::memory_order_relaxed)) {
        case InstructionSet::x86_64_v4: return detail::call_v4(f);
        case InstructionSet::x86_64_v3: return detail::call_v3(f);
        case InstructionSet::baseline: return detail::call_baseline(f);
    }
#endif
    f();
}

/// Those that this processor has, narrow to wide.
std::vector<InstructionSet> instruction_sets_here();

std::string_view name_of(InstructionSet set);

/// Takes the one of this name. Throws InputError for a name that is not known or that this processor does not have.
void use_instruction_set(const std::string& name);

/// The widest, or the one that the environment variable FERMENT_INSTRUCTION_SET names.
void pick_instruction_set();

}  // namespace ferment_python
