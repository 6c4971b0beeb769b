// A litre is no kilogram.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    const mass<> water = 1.0 * kilogram;
    static_cast<void>(water);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    const mass<> water = 1.0 * litre;
    static_cast<void>(water);
}
#endif
