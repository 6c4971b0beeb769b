// A density needs a volume to become a mass.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    const mass<> spirit = 948.0 * kilogram_per_cubic_metre * (0.7 * litre);
    static_cast<void>(spirit);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    const mass<> spirit = 948.0 * kilogram_per_cubic_metre;
    static_cast<void>(spirit);
}
#endif
