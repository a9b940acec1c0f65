// Loins for the tests, and a way to look at a refusal.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/literals.hpp>

namespace tranche_test {

inline constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
inline constexpr double infinite = std::numeric_limits<double>::infinity();

/// What `act` refuses with, or "accepted".
template <class Act>
[[nodiscard]] std::string message_of(Act&& act) {
    try {
        std::forward<Act>(act)();
    } catch (const tranche::invalid_input& e) {
        return e.what();
    }
    return "accepted";
}

/// A strip loin by tape measure. Invented data.
[[nodiscard]] inline tranche::measured_loin strip_loin() {
    using namespace tranche::literals;
    return {.length = 42.0_cm,
            .stations = {{.at = 0.0_cm, .width = 21.0_cm, .depth = 7.4_cm, .fat_cover = 1.0_cm, .tail = 4.0_cm},
                         {.at = 20.0_cm, .width = 19.7_cm, .depth = 6.9_cm, .fat_cover = 0.9_cm, .tail = 2.5_cm},
                         {.at = 42.0_cm, .width = 20.4_cm, .depth = 6.6_cm, .fat_cover = 0.7_cm, .tail = 2.0_cm}},
            .gluteus_medius = {.onset = 33.6_cm, .share_at_end = 0.30},
            .shape = {.silverskin = 1.0_mm}};
}

/// The same density for every tissue.
[[nodiscard]] inline tranche::tissue_densities all_of(tranche::density d) { return {{d, d, d, d, d}}; }

/// 100 mm long, 100 mm wide with a tail of 20 mm, 50 mm deep with 10 mm of fat. Its tissues weigh, in grams per
/// centimetre at 1 g/cm³: eye 8 × (5 - 1 - 0.1) = 31.2, fat 8, connective 0.8, tail 2 × 0.4 × 5 = 4. Invented data.
[[nodiscard]] inline tranche::prism_loin block() {
    using namespace tranche::literals;
    return {.length = 10_cm,
            .face = {.width = 10_cm, .depth = 5_cm, .fat_cover = 1_cm, .tail = 2_cm},
            .shape = {.fill = 1.0, .tail_depth = 0.4, .silverskin = 1_mm}};
}

} // namespace tranche_test
