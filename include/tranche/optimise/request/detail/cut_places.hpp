// Where the knife has to go and where it must not, in positions of a profile.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche::detail {

/// `cutting_rules::cut_at` and `kept_whole` on a grid.
struct cut_places {
    std::vector<std::size_t> pinned{};           ///< from the rib, each once, none of them at a face
    std::vector<quantity_range<length>> whole{}; ///< as the rules have them
    std::vector<std::size_t> last_pin{}; ///< by position: the last pinned one in front of it, 0 without; if any is

    cut_places() = default;
    template <class = when_called>
    cut_places(const profile& meat, const cutting_rules& rules) : whole(rules.kept_whole) {
        for (const length& at : rules.cut_at) {
            const std::size_t position = meat.nearest(at);
            if (position > 0 && position < meat.cells()) pinned.push_back(position);
        }
        std::sort(pinned.begin(), pinned.end());
        pinned.erase(std::unique(pinned.begin(), pinned.end()), pinned.end());
        if (pinned.empty()) return;
        last_pin.resize(meat.cells() + 1);
        for (std::size_t to = 1; to <= meat.cells(); ++to) last_pin[to] = is_pinned(to - 1) ? to - 1 : last_pin[to - 1];
    }

    [[nodiscard]] bool any() const { return !pinned.empty() || !whole.empty(); }
    [[nodiscard]] bool is_pinned(std::size_t position) const {
        return std::binary_search(pinned.begin(), pinned.end(), position);
    }
    /// The first pinned position behind this one, or `none`.
    [[nodiscard]] std::size_t next_pin(std::size_t position, std::size_t none) const {
        const auto next = std::upper_bound(pinned.begin(), pinned.end(), position);
        return next == pinned.end() ? none : *next;
    }
    /// By position: whether a slab with this kerf behind it must not end there. Empty if all may.
    template <class = when_called>
    [[nodiscard]] std::vector<bool> barred(const profile& meat, length kerf) const {
        std::vector<bool> ends;
        if (whole.empty()) return ends;
        ends.resize(meat.cells() + 1);
        for (const quantity_range<length>& stretch : whole)
            for (std::size_t to = 1; to < meat.cells(); ++to)
                if (enters(snapped(meat.position(to)), kerf, stretch) && !is_pinned(to)) ends[to] = true;
        return ends;
    }
    /// Whether a cut enters a stretch: the kerf, which ends at `at`, and where there is none the blade.
    [[nodiscard]] static bool enters(length at, length kerf, const quantity_range<length>& stretch) {
        return stretch.min < at && snapped(at - kerf) < stretch.max;
    }
};

/// Throws `invalid_input` if the position where the facing is cut lies in a stretch that is kept whole.
inline void require_facing_outside(const profile& meat, const cutting_rules& rules, std::size_t start) {
    for (std::size_t i = 0; i < rules.kept_whole.size(); ++i)
        if (is_inside(snapped(meat.position(start)), rules.kept_whole[i]))
            throw invalid_input("kept_whole[" + std::to_string(i) + "].min", rules.kept_whole[i].min,
                                sentence("at or behind where the facing is cut on this grid, ") + meat.position(start));
}

} // namespace tranche::detail
