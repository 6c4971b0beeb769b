// US proof and % vol have no sum.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(80.0 * us_proof_degree + 80.0 * us_proof_degree);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(80.0 * us_proof_degree + 40.0 * percent_vol);
}
#endif
