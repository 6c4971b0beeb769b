// Strength by volume is not strength by mass.
#include <ferment/liquid/spirit.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(abv_from_abw(33.3 * percent_mass));
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(abv_from_abw(40.0 * percent_vol));
}
#endif
