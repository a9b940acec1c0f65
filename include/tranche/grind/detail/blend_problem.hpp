// The linear program of a blend in whole numbers: one row for the mass, one for the fat, and bounds on each source.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/grind/detail/fat_parts.hpp>
#include <tranche/units/detail/wide_integer.hpp>

namespace tranche::detail {

/// Minimise Σ price x subject to Σ x = batch, leanest × batch <= Σ fat x <= fattest × batch, least <= x <= most. Masses are
/// whole micrograms, fat contents parts per billion, prices whole numbers below 2^60 on any common scale: every comparison
/// is exact, so a blend does not depend on the compiler.
///
/// The cost as a function of the fat, at a fixed mass, is convex and piecewise linear. Its least point is the fill by price.
/// Where that is too fat, fat is bought down by the cheapest exchanges: of all pairs of a fatter source that can give and a
/// leaner one that can take, the one with the least (price of the leaner - price of the fatter) / (difference in fat). While
/// a source lies strictly between its bounds, one of the cheapest exchanges has it on one side, so two sources at most lie
/// between their bounds in the end, and each exchange looks at each source once.
class blend_problem {
public:
    struct source {
        std::int64_t fat = 0, price = 0, least = 0, most = 0;
    };
    /// Of which fatter source for which leaner one the last exchange was.
    using exchange = std::pair<std::size_t, std::size_t>;
    struct solution {
        std::vector<std::int64_t> masses;
        std::optional<exchange> last; ///< none if the fill by price was lean and fat enough
    };

    std::vector<source> sources;
    std::int64_t batch = 0, leanest = 0, fattest = pure_fat;

    [[nodiscard]] wide_integer least_sum() const {
        wide_integer sum = 0;
        for (const source& s : sources) sum += s.least;
        return sum;
    }
    [[nodiscard]] wide_integer most_sum() const {
        wide_integer sum = 0;
        for (const source& s : sources) sum += s.most;
        return sum;
    }
    [[nodiscard]] wide_integer fat_of(const std::vector<std::int64_t>& masses) const {
        wide_integer fat = 0;
        for (std::size_t i = 0; i < sources.size(); ++i) fat += wide_integer{sources[i].fat} * masses[i];
        return fat;
    }
    [[nodiscard]] wide_integer fat_allowed() const { return wide_integer{fattest} * batch; }
    /// One microgram of pure fat less than asked for: no finer blend of whole micrograms need exist, and the upper end
    /// of the range goes first.
    [[nodiscard]] wide_integer fat_needed() const { return wide_integer{leanest} * batch - pure_fat; }

    /// The least masses, and the rest of the batch by ascending `key`, ties to the earlier source. The batch must lie
    /// between the sums of the least and the most masses.
    template <class Key>
    [[nodiscard]] std::vector<std::int64_t> filled_by(Key key) const {
        std::vector<std::size_t> order(sources.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return key(sources[a]) < key(sources[b]); });
        auto rest = static_cast<std::int64_t>(batch - least_sum());
        std::vector<std::int64_t> masses(sources.size());
        for (const std::size_t i : order) {
            const std::int64_t more = std::min(rest, sources[i].most - sources[i].least);
            masses[i] = sources[i].least + more;
            rest -= more;
        }
        return masses;
    }
    [[nodiscard]] std::vector<std::int64_t> leanest_fill() const {
        return filled_by([](const source& s) { return s.fat; });
    }
    [[nodiscard]] std::vector<std::int64_t> fattest_fill() const {
        return filled_by([](const source& s) { return -s.fat; });
    }

    /// The least-cost blend; the leanest and the fattest fill must reach the range. O(sources) an exchange, and O(sources²)
    /// for the first; one exchange at most for each pair of sources, unless three lie on one line of price over fat.
    [[nodiscard]] solution solved() const {
        solution result{filled_by([](const source& s) { return s.price; }), std::nullopt};
        const wide_integer fat = fat_of(result.masses);
        if (fat > fat_allowed())
            bring_down(result, fat - fat_allowed());
        else if (fat < wide_integer{leanest} * batch)
            bring_up(result, wide_integer{leanest} * batch - fat);
        return result;
    }

private:
    [[nodiscard]] bool gives(const std::vector<std::int64_t>& x, std::size_t i) const {
        return x[i] > sources[i].least;
    }
    [[nodiscard]] bool takes(const std::vector<std::int64_t>& x, std::size_t i) const { return x[i] < sources[i].most; }

    /// The cheapest exchange of a fatter for a leaner source; none if the fill is the leanest. Ties go to the widest
    /// difference in fat, then to earlier sources.
    [[nodiscard]] std::optional<exchange> cheapest(const std::vector<std::int64_t>& x) const {
        std::optional<exchange> best;
        wide_integer cost = 0, difference = 1;
        const auto look_at = [&](std::size_t from, std::size_t to) {
            if (sources[from].fat <= sources[to].fat || !gives(x, from) || !takes(x, to)) return;
            const wide_integer c = wide_integer{sources[to].price} - sources[from].price;
            const wide_integer d = wide_integer{sources[from].fat} - sources[to].fat;
            const wide_integer here = c * difference, there = cost * d;
            if (best && (here > there || (here == there && d <= difference))) return;
            best = {from, to};
            cost = c;
            difference = d;
        };
        const std::size_t n = sources.size();
        for (std::size_t k = 0; k < n; ++k)
            if (gives(x, k) && takes(x, k)) {
                for (std::size_t i = 0; i < n; ++i) {
                    look_at(k, i);
                    look_at(i, k);
                }
                if (best) return best;
            }
        for (std::size_t from = 0; from < n; ++from)
            for (std::size_t to = 0; to < n; ++to) look_at(from, to);
        return best;
    }

    /// Takes at least `excess` of fat out, in micrograms × parts per billion.
    void bring_down(solution& s, wide_integer excess) const {
        while (excess > 0) {
            const std::optional<exchange> next = cheapest(s.masses);
            if (!next) return;
            const auto [from, to] = *next;
            const wide_integer difference = wide_integer{sources[from].fat} - sources[to].fat;
            const std::int64_t most = std::min(s.masses[from] - sources[from].least, sources[to].most - s.masses[to]);
            const auto moved = static_cast<std::int64_t>(std::min(wide_integer{most}, divided_up(excess, difference)));
            s.masses[from] -= moved;
            s.masses[to] += moved;
            s.last = next;
            excess -= moved * difference;
        }
    }

    /// The same upside down: protein and water are to a fatter blend what fat is to a leaner one.
    void bring_up(solution& s, wide_integer missing) const {
        blend_problem turned = *this;
        for (source& t : turned.sources) t.fat = pure_fat - t.fat;
        turned.bring_down(s, missing);
        if (!s.last) return;
        std::swap(s.last->first, s.last->second);
        if (fat_of(s.masses) > fat_allowed()) { // the last microgram went over the upper end
            --s.masses[s.last->first];
            ++s.masses[s.last->second];
        }
    }
};

} // namespace tranche::detail
