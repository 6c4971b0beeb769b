#pragma once
// What liquids weigh: water, sugar solutions, spirits, washes, and the gravities that say so.

#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/liquid/water.hpp>
