// A layer that is made of several: what lies within a depth of it is what lies within that depth of each.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// The same layer, a part of which tapers, by its entries alone: what tapers runs in straight lines between them.
[[nodiscard]] inline layer by_entries(layer l) {
    for (std::size_t k = 0; k < l.spread.size() && l.taper.share > 0.0; ++k)
        l.spread[k] = with_taper(l.taper, l.spread[k], even_spread[k]);
    l.taper = {};
    return l;
}

/// Collects layers, each with its amount. Of amounts m and layers L the mixture has within a depth d
///     Σ m L.within(d) / Σ m,
/// at 32 depths exactly and between them in straight lines; layers that are all the same give themselves.
class layer_mixer {
public:
    void add(const layer& l, double amount) {
        if (!(amount > 0.0)) return;
        if (!parts_.empty() && parts_.back().what == l)
            parts_.back().amount += amount;
        else
            parts_.push_back({l, amount});
    }

    /// Of nothing, no layer. O(layers × 32).
    [[nodiscard]] layer mixed() const {
        if (parts_.empty()) return {};
        if (parts_.size() == 1) return parts_.front().what;
        layer result;
        double all = 0.0;
        for (const part& p : parts_) {
            result.thickness = std::max(result.thickness, p.what.thickness);
            all += p.amount;
        }
        result.spread.fill(0.0);
        for (const part& p : parts_) {
            const layer_spread spread = by_entries(p.what).spread;
            const double deeper = p.what.thickness > length{} ? double(result.thickness / p.what.thickness) : 0.0;
            for (std::size_t k = 0; k < result.spread.size(); ++k) {
                const double depth = even_spread[k] * deeper;
                const bool all_of_it = depth >= 1.0 || deeper == 0.0;
                result.spread[k] += unfused(p.amount * (all_of_it ? 1.0 : share_on_line(spread, depth)));
            }
        }
        for (double& share : result.spread) share = std::min(1.0, share / all);
        result.spread.back() = 1.0;
        return result;
    }

private:
    struct part {
        layer what{};
        double amount = 0.0;
    };
    std::vector<part> parts_;
};

} // namespace tranche::detail
