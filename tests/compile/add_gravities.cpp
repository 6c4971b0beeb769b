// Gravities against different waters have no difference.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(1.048 * sg_15_15 - 1.010 * sg_15_15);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(1.048 * sg_15_15 - 1.010 * sg_20_20);
}
#endif
