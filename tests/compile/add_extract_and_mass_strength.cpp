// Extract and ethanol are both by mass of the liquid, and still two things.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(12.0 * degree_plato + 2.0 * degree_plato);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(12.0 * degree_plato + 5.0 * percent_mass);
}
#endif
