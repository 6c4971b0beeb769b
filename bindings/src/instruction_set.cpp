#include "instruction_set.hpp"

#include <cstddef>
#include <cstdlib>
#include <ferment/core/error.hpp>

#include "module.hpp"

namespace ferment_python {

namespace py = pybind11;

std::vector<InstructionSet> instruction_sets_here() {
    std::vector<InstructionSet> here{InstructionSet::baseline};
#if FERMENT_HAS_X86_64_LEVELS
    __builtin_cpu_init();
    // The vector part of the levels of the x86-64 psABI; every processor that has it has the rest of its level as well.
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma") && __builtin_cpu_supports("bmi2")) {
        here.push_back(InstructionSet::x86_64_v3);
        if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512bw") && __builtin_cpu_supports("avx512cd") &&
            __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl")) {
            here.push_back(InstructionSet::x86_64_v4);
        }
    }
#endif
    return here;
}

std::string_view name_of(const InstructionSet set) {
    return instruction_set_names[static_cast<std::size_t>(set)];
}

void use_instruction_set(const std::string& name) {
    std::string usable;
    for (const InstructionSet set : instruction_sets_here()) {
        if (name_of(set) == name) {
            instruction_set_in_use = set;
            return;
        }
        usable.append(usable.empty() ? "\"" : "\", \"").append(name_of(set));
    }
    throw ferment::InputError("instruction set \"" + name + "\" is not one of those that this processor and build have: " + usable + "\"");
}

void pick_instruction_set() {
    const char* asked = std::getenv("FERMENT_INSTRUCTION_SET");
    if (asked == nullptr || *asked == '\0') {
        instruction_set_in_use = instruction_sets_here().back();
    } else {
        use_instruction_set(asked);
    }
}

void bind_instruction_set(py::module_& m) {
    pick_instruction_set();
    m.def(
        "instruction_set", [] { return std::string(name_of(instruction_set_in_use)); },
        "The instruction set that array loops use: \"baseline\", \"x86-64-v3\" (AVX2) or \"x86-64-v4\" (AVX-512).\n\n"
        "The widest that the processor has, unless the environment variable FERMENT_INSTRUCTION_SET or use_instruction_set() says otherwise.\n"
        "Results agree to 1e-13 (relative) between them.");
    m.def(
        "instruction_sets",
        [] {
            py::list names;
            for (const InstructionSet set : instruction_sets_here()) names.append(std::string(name_of(set)));
            return py::tuple(names);
        },
        "The instruction sets that this processor and this build have, narrow to wide.");
    m.def("use_instruction_set", &use_instruction_set, py::arg("name"),
          "Makes array loops use another instruction set, in all threads.\n\n"
          "Parameters\n----------\nname : str\n    One of instruction_sets().\n\n"
          "Raises\n------\nInputError\n    For a name that is not known or not usable here.\n");
}

}  // namespace ferment_python
