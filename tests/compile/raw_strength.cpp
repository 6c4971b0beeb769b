// A bare number is not a strength: 40.0 could be anything.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    const abv<> strength = 40.0 * percent_vol;
    static_cast<void>(strength);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    const abv<> strength = 40.0;
    static_cast<void>(strength);
}
#endif
