#pragma once
// Water, sugar solutions, spirits, washes: what they weigh, how they bend light, how they boil, what heat they hold; the gas of fermentation.

#include <ferment/liquid/carbon_dioxide.hpp>
#include <ferment/liquid/enthalpy.hpp>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/refraction.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/liquid/water.hpp>
