// Dissolved extract is not ethanol.
#include <ferment/liquid/spirit.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(abv_from_abw(12.0 * percent_mass));
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(abv_from_abw(12.0 * degree_plato));
}
#endif
