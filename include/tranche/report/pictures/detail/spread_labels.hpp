// Labels moved apart along a line, as little as it takes, so that none covers another.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Places for labels that wish to stand at `wishes` (rising), at least `gap` apart and within [low, high], so that the sum
/// of the squared moves is least: isotonic regression of wish - i × gap by pooling adjacent violators (Ayer, Brunk, Ewing,
/// Reid and Silverman 1955, Ann. Math. Stat. 26:641), then clamped. Where there is not room enough the gap shrinks to what
/// there is; with `low` above `high` there is none, and all stand halfway between. O(labels).
template <class = when_called>
[[nodiscard]] std::vector<double> spread_labels(const std::vector<double>& wishes, double gap, double low,
                                                double high) {
    if (wishes.empty()) return {};
    if (low > high) low = high = 0.5 * (low + high);
    const auto spaces = static_cast<double>(wishes.size() - 1);
    if (spaces * gap > high - low) gap = (high - low) / spaces; // not with one label, which has no spaces
    struct pool {
        double sum;
        std::size_t count;
        [[nodiscard]] double mean() const { return sum / static_cast<double>(count); }
    };
    std::vector<pool> pools;
    for (std::size_t i = 0; i < wishes.size(); ++i) {
        pools.push_back({wishes[i] - static_cast<double>(i) * gap, 1});
        while (pools.size() > 1 && pools[pools.size() - 2].mean() >= pools.back().mean()) {
            const pool last = pools.back();
            pools.pop_back();
            pools.back().sum += last.sum;
            pools.back().count += last.count;
        }
    }
    std::vector<double> places;
    for (const pool& p : pools)
        for (std::size_t k = 0; k < p.count; ++k)
            places.push_back(std::clamp(p.mean(), low, std::max(low, high - spaces * gap)) +
                             static_cast<double>(places.size()) * gap);
    return places;
}

/// Which of so many labels along `room` are written where not all of them have a `gap`: every so many, from the first on.
template <class = when_called>
[[nodiscard]] std::size_t label_stride(std::size_t count, double gap, double room) {
    if (count < 2 || static_cast<double>(count - 1) * gap <= room || !(room > 0.0)) return 1;
    const auto most = static_cast<std::size_t>(room / gap) + 1;
    return (count + most - 1) / most;
}

/// Every so many of some, from the first on.
template <class T>
[[nodiscard]] std::vector<T> every_so_many(const std::vector<T>& all, std::size_t stride) {
    std::vector<T> kept;
    for (std::size_t i = 0; i < all.size(); i += stride) kept.push_back(all[i]);
    return kept;
}

} // namespace tranche::detail
