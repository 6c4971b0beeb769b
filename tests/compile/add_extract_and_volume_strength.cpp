// Extract and strength by volume have no sum.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(5.0 * percent_vol - 1.0 * percent_vol);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(5.0 * percent_vol - 1.0 * degree_plato);
}
#endif
