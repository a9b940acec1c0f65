// Blends whose mass is open: as much as the supplies allow, or the least that has to be bought for what has to go in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/grind/detail/blend_problem.hpp>

namespace tranche::detail {

/// The problem with lean for fat: what is too lean is too fat in it.
[[nodiscard]] inline blend_problem turned(blend_problem p) {
    for (blend_problem::source& s : p.sources) s.fat = pure_fat - s.fat;
    std::swap(p.leanest, p.fattest);
    p.leanest = pure_fat - p.leanest;
    p.fattest = pure_fat - p.fattest;
    return p;
}

/// Masses, and the fat that is still over the upper end or, as a negative number, under the lower one. `last` is the source
/// that was changed last, if any was.
struct sized_blend {
    std::vector<std::int64_t> masses;
    wide_integer off = 0;
    std::optional<std::size_t> last{};

    [[nodiscard]] wide_integer batch() const {
        wide_integer sum = 0;
        for (const std::int64_t m : masses) sum += m;
        return sum;
    }
};

/// With one row, Σ (fat - fattest) x <= 0, the best blend is a matter of order: to add the least cost, sources come by
/// price over what each is leaner than the upper end; to take the least mass away, by what each is fatter. Ties go to the
/// larger difference, then to the earlier source. O(sources log sources).
inline void bring_to_upper_end(const blend_problem& p, sized_blend& s, bool adding) {
    const auto away = [&](std::size_t i) {
        const std::int64_t leaner = p.fattest - p.sources[i].fat;
        return wide_integer{adding ? leaner : -leaner};
    };
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < p.sources.size(); ++i)
        if (away(i) > 0) order.push_back(i);
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const wide_integer first = adding ? p.sources[a].price * away(b) : 0;
        const wide_integer other = adding ? p.sources[b].price * away(a) : 0;
        return first != other ? first < other : away(a) > away(b);
    });
    s.off = p.fat_of(s.masses) - p.fattest * s.batch();
    for (const std::size_t i : order) {
        if (s.off <= 0) break;
        const std::int64_t room = adding ? p.sources[i].most - s.masses[i] : s.masses[i] - p.sources[i].least;
        if (room == 0) continue;
        const auto moved = static_cast<std::int64_t>(std::min(wide_integer{room}, divided_up(s.off, away(i))));
        s.masses[i] += adding ? moved : -moved;
        s.off -= moved * away(i);
        s.last = i;
    }
    s.off = std::max(s.off, wide_integer{0});
}

/// From the least masses upwards at the least cost (prices zero or more), or from the most masses downwards with the least
/// mass lost, into the range of fat.
[[nodiscard]] inline sized_blend free_batch(const blend_problem& p, bool adding) {
    sized_blend s;
    for (const blend_problem::source& source : p.sources) s.masses.push_back(adding ? source.least : source.most);
    bring_to_upper_end(p, s, adding);
    if (s.off > 0 || s.last) return s;
    bring_to_upper_end(turned(p), s, adding);
    s.off = -s.off;
    // The last microgram may go over the upper end of a narrow range.
    if (s.last && p.fat_of(s.masses) > p.fattest * s.batch()) s.masses[*s.last] += adding ? -1 : 1;
    return s;
}

/// The leanest share of fat that what has to go in can be brought to, whatever the mass: leaner sources go in while they are
/// leaner than the mean. There must be some meat.
[[nodiscard]] inline fraction leanest_of_any_mass(const blend_problem& p) {
    std::vector<blend_problem::source> by_fat = p.sources;
    std::stable_sort(by_fat.begin(), by_fat.end(), [](const auto& a, const auto& b) { return a.fat < b.fat; });
    wide_integer mass = 0, fat = 0;
    for (const blend_problem::source& s : by_fat) {
        mass += s.least;
        fat += wide_integer{s.fat} * s.least;
    }
    for (const blend_problem::source& s : by_fat) {
        if (mass > 0 && fat_share(s.fat, 1) >= fat_share(fat, mass)) break;
        mass += s.most - s.least;
        fat += wide_integer{s.fat} * (s.most - s.least);
    }
    return fat_share(fat, mass);
}

} // namespace tranche::detail
