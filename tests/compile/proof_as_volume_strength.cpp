// US proof is neither % vol nor twice % vol: its reference temperature is another.
#include <ferment/liquid/spirit.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(abw_from_abv(40.0 * percent_vol));
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(abw_from_abv(80.0 * us_proof_degree));
}
#endif
