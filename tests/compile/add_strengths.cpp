// Strength by volume and strength by mass have no sum.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(5.0 * percent_vol + 5.0 * percent_vol);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(5.0 * percent_vol + 5.0 * percent_mass);
}
#endif
