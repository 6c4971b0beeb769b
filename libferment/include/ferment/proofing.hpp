#pragma once
// What the water does at the end: blending, reduction, sweetening, bottling.

#include <ferment/proofing/blend.hpp>
#include <ferment/proofing/bottling.hpp>
#include <ferment/proofing/dilution.hpp>
#include <ferment/proofing/sweetening.hpp>
