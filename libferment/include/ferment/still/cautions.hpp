#pragma once
// What every plan of a run has to say beside its figures.

#include <ferment/core/source.hpp>
#include <string_view>

namespace ferment {

inline constexpr source still_hazard_source{
    "still_hazard",
    "ethanol vapour in air burns from 3.1 to 19 % by volume; flash point of pure ethanol 12 degC",
    "IEC 60079-20-1:2010, ethanol",
    "air at room temperature",
    "NFPA 497 (2008) has 3.3 to 19 % and 13 degC: both are in force, in different regimes",
    source_status::secondary,
};

/// The cautions of every run, in the order in which they matter. The two figures in it are those of still_hazard_source.
inline constexpr std::string_view still_cautions =
    "Distilling spirit needs a licence almost everywhere: local law, local fire and pressure codes and licensed practice come before every figure here. "
    "Ethanol vapour burns from 3.1 to 19 % by volume in air, and liquid spirit can be lit from 12 degC: no flame, no spark, good ventilation, a leak-free "
    "still, a receiver that does not let vapour into the room, and an extinguisher at hand. "
    "Never leave a running still, and never let the cooling water fail unseen. "
    "A still must never be closed: keep the outlet open and free, fit a pressure and vacuum relief, and leave head space for foam. "
    "The fore-shots (first runnings) are not drink. "
    "The figures are estimates of a model; thermometer, hydrometer and an experienced nose decide.";

}  // namespace ferment
