// US proof and % mass have no sum.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(80.0 * us_proof_degree - 70.0 * us_proof_degree);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(80.0 * us_proof_degree - 33.3 * percent_mass);
}
#endif
