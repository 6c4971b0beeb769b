// A bare number is not a temperature: 20 could be in degF.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    const celsius<> room = 20.0 * degree_celsius;
    static_cast<void>(room);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    const celsius<> room = 20.0;
    static_cast<void>(room);
}
#endif
