#pragma once
// Where a number comes from. Range and uncertainty are part of a formula, so every formula carries them as data.

#include <string_view>

namespace ferment {

/// How far a source could be checked.
///   verified         read in the publication or in several independent copies, and reproduced by a test
///   secondary        read in one later quotation only
///   from_memory      recalled, not read; never the only support of a result
///   common_practice  a habit of the trade without a published source
enum class source_status { verified, secondary, from_memory, common_practice };

constexpr std::string_view to_string(const source_status s) {
    switch (s) {
        case source_status::verified: return "verified";
        case source_status::secondary: return "secondary";
        case source_status::from_memory: return "from memory";
        case source_status::common_practice: return "common practice, no source";
    }
    return "unknown";
}

/// One published relation or table: what it gives, who published it, where it holds and how well.
struct source {
    std::string_view name;         ///< short name: author and year, or the standard
    std::string_view quantity;     ///< what it gives, with the unit
    std::string_view citation;     ///< author, title or standard, year, table or equation
    std::string_view range;        ///< where it holds, with units
    std::string_view uncertainty;  ///< stated or measured uncertainty, with unit
    source_status status = source_status::verified;
};

}  // namespace ferment
