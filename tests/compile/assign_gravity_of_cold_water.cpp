// A gravity at 20/4 is not one at 20/20: 4 degC water is 1.8 kg/m3 heavier.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    const gravity<at_20_20> reading = 1.048 * sg_20_20;
    static_cast<void>(reading);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    const gravity<at_20_20> reading = 1.048 * sg_20_4;
    static_cast<void>(reading);
}
#endif
