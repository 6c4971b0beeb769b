#pragma once
// A no-cook fermentation: where it ends, what a reading says on the way, how it goes in time, and whether it is where it should be.
// Forecast, fit and check need Eigen and odeint, which cost seconds to compile; end_point.hpp, reading.hpp and course.hpp do not.

#include <ferment/fermentation/causes.hpp>
#include <ferment/fermentation/check.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/fermentation/fit.hpp>
#include <ferment/fermentation/forecast.hpp>
#include <ferment/fermentation/inoculum.hpp>
#include <ferment/fermentation/kinetics.hpp>
#include <ferment/fermentation/reading.hpp>
#include <ferment/fermentation/simulate.hpp>
#include <ferment/fermentation/vessel.hpp>
