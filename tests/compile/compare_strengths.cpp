// Strength by volume and strength by mass cannot be compared.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(40.0 * percent_vol < 50.0 * percent_vol);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(40.0 * percent_vol < 33.3 * percent_mass);
}
#endif
