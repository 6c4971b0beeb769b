// Strength first, temperature second: swapped they do not fit.
#include <ferment/liquid/spirit.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(spirit_density(33.3 * percent_mass, 20.0 * degree_celsius));
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(spirit_density(20.0 * degree_celsius, 33.3 * percent_mass));
}
#endif
