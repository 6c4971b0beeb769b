// A gravity needs its water to become a density.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    const density<> wort = 1048.0 * kilogram_per_cubic_metre;
    static_cast<void>(wort);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    const density<> wort = 1.048 * sg_20_20;
    static_cast<void>(wort);
}
#endif
