// A gravity is not an extract; a named conversion makes one of the other.
#include <ferment/liquid/sucrose.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(sucrose_density(12.0 * degree_plato, 20.0 * degree_celsius));
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(sucrose_density(1.048 * sg_20_20, 20.0 * degree_celsius));
}
#endif
