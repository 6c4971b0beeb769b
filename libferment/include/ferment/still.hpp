#pragma once
// Planning what a still does: charges, stripping, a batch column, congeners, cuts. A planner, not a controller: licence, local codes and practice first.

#include <ferment/still/cautions.hpp>
#include <ferment/still/charge.hpp>
#include <ferment/still/column.hpp>
#include <ferment/still/congeners.hpp>
#include <ferment/still/cuts.hpp>
#include <ferment/still/duty.hpp>
#include <ferment/still/jars.hpp>
#include <ferment/still/packing.hpp>
#include <ferment/still/stripping.hpp>
