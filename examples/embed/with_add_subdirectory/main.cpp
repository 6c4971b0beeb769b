// What these sacks can give in so much water, uncooked, and where the wash will end.
#include <cstdio>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/mash.hpp>

int main() {
    using namespace ferment;
    Bill bill;
    bill.add(grain("flaked maize"), 20.0 * kilogram).add(grain("flaked rye"), 5.0 * kilogram).add(grain("barley malt"), 2.0 * kilogram);
    const Potential can_give = potential(bill, 85.0 * litre, 12.0 * degree_celsius, no_cook::assumptions());
    for (const GrainPotential& line : can_give.expected.grains) {
        std::printf("%-14s %5.1f kg  %5.2f L of pure alcohol\n", line.name.c_str(), line.mass_kg, line.pure_alcohol_l.value());
    }
    const EndPoint end = end_point(can_give);
    const auto with_doubt = [](const char* what, const Uncertain& x, const double scale, const int digits, const char* unit) {
        std::printf("%-14s %.*f +- %.*f%s\n", what, digits, scale * x.value(), digits, scale * x.standard_uncertainty(), unit);
    };
    with_doubt("strength", end.abv, 100.0, 1, " % vol");
    with_doubt("end gravity", end.gravity, 1.0, 4, "");
    with_doubt("pure alcohol", end.pure_alcohol_l, 1.0, 1, " L");
    try {
        static_cast<void>(grain("flaked maze"));
    } catch (const InputError& error) {
        std::printf("%s\n", error.what());
    }
}
