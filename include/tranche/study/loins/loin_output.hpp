// What a study of loins reports of each of them, in whole numbers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/study/run/study_model.hpp>

namespace tranche {

/// The figures of one loin. `study_outline::outputs` has them in this order.
enum class loin_output {
    portions,         ///< cut, whether they keep their limits or not; pieces
    portions_within,  ///< of those inside all limits
    share_within,     ///< portions within / portions cut; millionths
    portion_weight,   ///< mean of the portions cut, as they came off the knife; micrograms
    lightest_portion, ///< of those; micrograms
    heaviest_portion, ///< of those; micrograms
    cooked_portion,   ///< portion weight × cooking yield; micrograms
    yield,            ///< weight of portions that are sold / weight as bought; millionths
    giveaway,         ///< of portions sold, above what they are charged at; micrograms
    cost_per_portion, ///< what is left of the price once by-products are credited / portions sold; minor units
    saving,           ///< net, against ready-cut meat; minor units
    margin,           ///< worth of portions, loose meat and trim at their prices - paid - costs of cutting; minor units
    covers_short      ///< guests for whom there is no portion; pieces
};
inline constexpr std::size_t loin_output_count = 13;

namespace detail {

inline constexpr std::array<std::string_view, loin_output_count> names_of_loin_outputs{"portions",
                                                                                       "portions within limits",
                                                                                       "share within limits",
                                                                                       "portion weight",
                                                                                       "lightest portion",
                                                                                       "heaviest portion",
                                                                                       "cooked portion",
                                                                                       "yield",
                                                                                       "giveaway",
                                                                                       "cost per portion",
                                                                                       "saving",
                                                                                       "margin",
                                                                                       "covers short"};

} // namespace detail

/// "portions", "portion weight" ... Any figure; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(loin_output what) {
    return detail::names_of_loin_outputs[static_cast<std::size_t>(what)];
}

/// The outputs with their units and bins: weights in bins of 0.1 g, shares in bins of a ten-thousandth, money of `minor_digits` decimal
/// digits in bins of one minor unit. `minor_digits` is 0 to 4. Throws nothing.
[[nodiscard]] inline std::vector<study_output> loin_outputs(int minor_digits) {
    std::vector<study_output> outputs;
    double minor = 1.0;
    for (int i = 0; i < minor_digits; ++i) minor *= 10.0;
    for (std::size_t i = 0; i < loin_output_count; ++i) {
        const auto what = static_cast<loin_output>(i);
        study_output output{.name = std::string(name_of(what))};
        switch (what) {
        case loin_output::portions:
        case loin_output::portions_within:
        case loin_output::covers_short: break;
        case loin_output::share_within:
        case loin_output::yield:
            output.unit = 1e-6;
            output.bin = 100;
            break;
        case loin_output::portion_weight:
        case loin_output::lightest_portion:
        case loin_output::heaviest_portion:
        case loin_output::cooked_portion:
        case loin_output::giveaway:
            output.unit = 1e-9;
            output.bin = 100'000;
            break;
        case loin_output::cost_per_portion:
        case loin_output::saving:
        case loin_output::margin: output.unit = 1.0 / minor; break;
        }
        outputs.push_back(std::move(output));
    }
    return outputs;
}

} // namespace tranche
