#pragma once
// What the grain can give.

#include <ferment/mash/bill.hpp>
#include <ferment/mash/grain.hpp>
#include <ferment/mash/grain_table.hpp>
#include <ferment/mash/potential.hpp>
#include <ferment/mash/water.hpp>
