// A temperature difference is not a temperature point.
#include <ferment/liquid/water.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(water_density(20.0 * degree_celsius));
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(water_density(24.0 * degree_celsius - 4.0 * degree_celsius));
}
#endif
