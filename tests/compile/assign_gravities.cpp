// A gravity at 20/20 is not one at 60/60 degF.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    const gravity<at_60f_60f> reading = 1.048 * sg_60f;
    static_cast<void>(reading);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    const gravity<at_60f_60f> reading = 1.048 * sg_20_20;
    static_cast<void>(reading);
}
#endif
