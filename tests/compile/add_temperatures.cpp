// Two temperature points have a difference, but no sum.
#include <ferment/core/quantity.hpp>

using namespace ferment;

void legal() {
    static_cast<void>(20.0 * degree_celsius - 4.0 * degree_celsius);
}

#ifdef MUST_NOT_COMPILE
void illegal() {
    static_cast<void>(20.0 * degree_celsius + 4.0 * degree_celsius);
}
#endif
