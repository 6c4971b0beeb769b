// Masses are added, volumes are not masses.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(1.0 * kilogram + 1.0 * kilogram);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(1.0 * kilogram + 1.0 * litre);
}
#endif
