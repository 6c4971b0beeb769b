#pragma once
// What a reading really says.

#include <ferment/instrument/alcoholometer.hpp>
#include <ferment/instrument/hydrometer.hpp>
