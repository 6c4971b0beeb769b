#pragma once
// Where a no-cook fermentation ends, and what a reading says on the way.

#include <ferment/fermentation/end_point.hpp>
#include <ferment/fermentation/reading.hpp>
