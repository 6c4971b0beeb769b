// How strong is a wash whose original gravity nobody knows? Hydrometer and refractometer together say it, and how sure that is.
#include <cstdio>
#include <ferment/liquid/refraction.hpp>
#include <ferment/strength/without_og.hpp>

int main() {
    using namespace ferment;
    const Uncertain gravity = Uncertain::input(1.0012, 0.0005, "gravity");
    const Uncertain brix = Uncertain::input(5.6, 0.1, "Brix");
    const Uncertain room_c = 20.0;
    const FoundStrength wash = strength_from_hydrometer_and_refractometer(gravity, sucrose_refraction::index<Uncertain>(0.01 * brix, room_c));
    std::printf("%.1f +- %.1f %% vol, %.1f %% mass of extract\n", 100.0 * wash.abv.value(), 100.0 * wash.abv.standard_uncertainty(),
                100.0 * wash.real_extract.value());
    std::printf("most of the doubt comes from: %s\n", wash.dominated_by.c_str());
}
