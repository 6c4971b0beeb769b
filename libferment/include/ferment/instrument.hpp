#pragma once
// What a reading really says.

#include <ferment/instrument/alcoholometer.hpp>
#include <ferment/instrument/ebulliometer.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/instrument/refractometer.hpp>
