// Fewest settings of the slicer as a want.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <utility>

#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

namespace detail {

struct fewest_settings_want {
    [[nodiscard]] planned operator()(const profile& meat, const cutting_request& request) const {
        if (!request.demands.empty())
            throw invalid_input("demands", std::to_string(request.demands.size()), "none for the fewest settings");
        few_settings few = fewest_settings(meat, request.cuts, request.rules);
        planned& found = few.planned;
        if (!found.score_parts.empty())
            found.score_parts.insert(found.score_parts.begin() + 1,
                                     {-static_cast<double>(few.settings), -static_cast<double>(few.at_least)});
        return std::move(found);
    }
};

} // namespace detail

/// The most portions with the fewest settings of the slicer; among such plans the most mass in portions. `score_parts` are
/// portions, minus the settings, and micrograms in portions; minus the bound of the second is how few there might be. See
/// `fewest_settings` for a loin. Throws `invalid_input`, when planned with, for demands.
template <class = detail::when_called>
[[nodiscard]] detail::fewest_settings_want fewest_settings() {
    return {};
}

} // namespace tranche
