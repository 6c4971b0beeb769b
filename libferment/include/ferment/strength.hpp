#pragma once
// How much alcohol is in it.

#include <ferment/strength/gravity.hpp>
