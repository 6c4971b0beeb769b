#pragma once
// How much alcohol is in it. Only combine.hpp needs Eigen.

#include <ferment/strength/combine.hpp>
#include <ferment/strength/gravity.hpp>
#include <ferment/strength/without_og.hpp>
