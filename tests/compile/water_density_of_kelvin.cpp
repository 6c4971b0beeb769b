// Kelvin are not degrees Celsius.
#include <ferment/liquid/water.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(water_density(20.0 * degree_celsius));
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(water_density(293.15 * (bu::absolute<bu::si::temperature>())));
}
#endif
