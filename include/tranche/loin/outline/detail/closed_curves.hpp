// Closed curves out of their steps, wherever these come from.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <utility>
#include <vector>

#include <tranche/loin/outline/outline.hpp>

namespace tranche::detail {

/// A step of a closed curve, which begins at `place`; the next one is from where this one goes to.
template <class Key>
struct curve_step {
    Key from{}, to{};
    flat_point place{};
    bool used = false;
};

/// The curves that steps make up: as many are to each key as from it. Where needless(curve, place) says so, the last corner of a
/// curve is left out before `place` is added; so are curves without area. O(n log n).
template <class Key, class Needless>
[[nodiscard]] std::vector<flat_ring> closed_curves(std::vector<curve_step<Key>> steps, Needless needless) {
    using step = curve_step<Key>;
    std::sort(steps.begin(), steps.end(), [](const step& a, const step& b) { return a.from < b.from; });
    std::vector<flat_ring> rings;
    for (step& first : steps) {
        flat_ring ring;
        for (step* here = &first; here != nullptr && !here->used;) {
            here->used = true;
            while (needless(std::as_const(ring), here->place)) ring.pop_back();
            ring.push_back(here->place);
            const Key to = here->to;
            auto next = std::lower_bound(steps.begin(), steps.end(), to,
                                         [](const step& s, const Key& key) { return s.from < key; });
            while (next != steps.end() && next->from == to && next->used) ++next;
            here = next != steps.end() && next->from == to ? &*next : nullptr;
        }
        while (ring.size() > 1 && ring.back() == ring.front()) ring.pop_back();
        if (ring.size() > 2 && signed_area(ring) != 0.0) rings.push_back(std::move(ring));
    }
    return rings;
}

} // namespace tranche::detail
