#pragma once
// Everything. Programs that need less include the header of one folder; liquid.hpp and instrument.hpp compile without Eigen.

#include <ferment/batch.hpp>
#include <ferment/fermentation.hpp>
#include <ferment/instrument.hpp>
#include <ferment/liquid.hpp>
#include <ferment/mash.hpp>
#include <ferment/proofing.hpp>
#include <ferment/sources.hpp>
#include <ferment/still.hpp>
#include <ferment/strength.hpp>
