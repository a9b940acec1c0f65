// The narrowest window of weights within which a loin can be cut into just so many portions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

#include <tranche/optimise/engine/detail/allowed_slabs.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The lightest and the heaviest portion of a plan, in micrograms.
struct even_weights {
    std::int64_t lightest = 0, heaviest = 0;
    [[nodiscard]] std::int64_t spread() const { return heaviest - lightest; }

    friend bool operator==(const even_weights&, const even_weights&) = default;
};

/// Costs of slabs in `narrowest_window`: of what is not allowed, and less than any other.
struct window_cost {
    static constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max();
    static constexpr std::int64_t none = std::numeric_limits<std::int64_t>::min();
};

/// The narrowest window of weights of all tilings, of windows equally narrow the one of the heaviest portions; none if there
/// is no tiling. `worst(cost)` gives the least, over all tilings, of the largest cost of a slab of portions, which is asked
/// of its `lightest` and `heaviest`; `never` if every tiling has a slab that costs `never`.
///
/// With L(h) the largest lightest portion among tilings without one above h, and H(l) the smallest heaviest among those
/// without one below l, both never fall. From the top down, a window [L(h), h] is shrunk to [L(h), H(L(h))]; the next h
/// lies below that, and so far below that a narrower window is possible at all.
template <class Worst>
[[nodiscard]] std::optional<even_weights> narrowest_window(const Worst& worst) {
    std::optional<even_weights> best;
    std::int64_t most = std::numeric_limits<std::int64_t>::max() / 2;
    while (true) {
        const std::int64_t cost =
            worst([&](const auto& s) { return s.heaviest > most ? window_cost::never : -s.lightest; });
        if (cost == window_cost::never) return best;
        const std::int64_t lightest = -cost;
        if (best && most - lightest >= best->spread()) {
            most = lightest + best->spread() - 1;
            continue;
        }
        const std::int64_t heaviest =
            worst([&](const auto& s) { return s.lightest < lightest ? window_cost::never : s.heaviest; });
        best = even_weights{lightest, heaviest};
        if (best->spread() == 0) return best;
        most = heaviest - 1;
    }
}

/// Finds the narrowest window of weights within which a loin can be cut into just so many portions, in the order that cuts
/// may have to lie in. One thickness for a cut is not looked at.
template <class = when_called>
class even_search {
public:
    even_search(const cutting_problem& problem, std::int64_t portions)
        : problem_(problem), portions_(portions),
          orders_(order_states_within(problem, most_ordered_entries, static_cast<std::size_t>(portions) + 1)),
          slabs_to_(problem.cells() + 1) {
        for (std::size_t o = problem.loose_count(); o < problem.option_count(); ++o) add_slabs(o);
        bound_counts();
    }

    /// None if there is no such tiling.
    [[nodiscard]] std::optional<even_weights> narrowest() {
        return narrowest_window([&](const auto& cost) { return worst(cost); });
    }

    /// Counts told apart by all searches so far, in the mean over the positions and rounded up.
    [[nodiscard]] std::size_t states() const { return (entries_ + problem_.cells()) / (problem_.cells() + 1); }

private:
    static constexpr std::int64_t unreachable = -1;

    /// An allowed slab that ends at a position, and the portions it gives.
    struct slab_weights {
        std::size_t from, option;
        std::int64_t pieces, lightest, heaviest;
    };

    void add_slabs(std::size_t o) {
        const std::int64_t pieces = problem_.pieces(o);
        each_allowed_slab(problem_, o, [&](std::size_t from, std::size_t to) {
            const std::int64_t weight = problem_.weight(o, from, to);
            slabs_to_[to].push_back({from, o, pieces, weight / pieces, (weight + pieces - 1) / pieces});
        });
    }

    /// Which loose meat may end at `to`: from the start, and from any position up to this one (none if below the start).
    [[nodiscard]] std::size_t last_loose_start(std::size_t to) const { return last_loose_start_[to]; }

    /// Portions in front of and behind each position, at most; together they say which counts are worth a look.
    void bound_counts() {
        const std::size_t start = problem_.start(), end = problem_.cells();
        last_loose_start_.assign(end + 1, start);
        for (std::size_t to = start + 1; to <= end; ++to)
            for (std::size_t o = 0; o < problem_.loose_count(); ++o) {
                const std::size_t least = problem_.window(o).least_cells;
                const std::size_t last = to == end ? problem_.window(o).last_to_end : to - std::min(to, least);
                last_loose_start_[to] = std::max(last_loose_start_[to], std::min(last, to - 1));
            }
        std::vector<std::int64_t> in_front(end + 1, unreachable), behind(end + 1, unreachable);
        in_front[start] = 0;
        std::int64_t loose = 0;
        for (std::size_t to = start + 1, next = start + 1; to <= end; ++to) {
            if (to == end) { // a remnant may have to start earlier than loose meat in front of it
                loose = 0;
                next = start + 1;
            }
            for (; next <= last_loose_start(to); ++next) loose = std::max(loose, in_front[next]);
            in_front[to] = std::max(in_front[to], loose);
            for (const slab_weights& s : slabs_to_[to])
                if (in_front[s.from] != unreachable) in_front[to] = std::max(in_front[to], in_front[s.from] + s.pieces);
        }
        std::vector<std::int64_t> most_behind(end + 1, unreachable); // of positions from here up to the sirloin face
        behind[end] = 0;
        for (std::size_t p = end, loose_to = end;; --p) {
            if (p < end) {
                while (loose_to > p + 1 && last_loose_start(loose_to - 1) >= p) --loose_to;
                behind[p] = std::max(behind[p], most_behind[loose_to]);
                if (p == start || last_loose_start(end) >= p) behind[p] = std::max<std::int64_t>(behind[p], 0);
                most_behind[p] = std::max(most_behind[p + 1], behind[p]);
            }
            if (p == start) break;
            if (behind[p] == unreachable) continue;
            for (const slab_weights& s : slabs_to_[p]) behind[s.from] = std::max(behind[s.from], behind[p] + s.pieces);
        }
        first_count_.resize(end + 2);
        offset_.assign(end + 2, 0);
        for (std::size_t p = start; p <= end; ++p) {
            offset_[p + 1] = offset_[p];
            if (in_front[p] == unreachable || behind[p] == unreachable) continue;
            first_count_[p] = std::max<std::int64_t>(0, portions_ - behind[p]);
            const std::int64_t last = std::min(in_front[p], portions_);
            if (last >= first_count_[p]) offset_[p + 1] += static_cast<std::size_t>(last - first_count_[p] + 1);
        }
    }

    /// See `narrowest_window`. O(slabs × counts kept), times the states of an order of cuts.
    template <class Cost>
    [[nodiscard]] std::int64_t worst(const Cost& cost) {
        const std::size_t start = problem_.start(), end = problem_.cells(), orders = orders_.count();
        entries_ += offset_.back() * orders;
        std::vector<std::int64_t> table(offset_.back() * orders,
                                        window_cost::never); // by position, count, and how far the order has come
        std::vector<std::int64_t> loose((static_cast<std::size_t>(portions_) + 1) * orders,
                                        window_cost::never); // by count and order
        const auto at = [&](std::size_t p, std::int64_t count) -> std::int64_t* {
            const std::int64_t k = count - first_count_[p];
            const bool kept = k >= 0 && static_cast<std::size_t>(k) < offset_[p + 1] - offset_[p];
            return kept ? &table[(offset_[p] + static_cast<std::size_t>(k)) * orders] : nullptr;
        };
        const auto enter = [&](std::size_t p) {
            std::size_t to = static_cast<std::size_t>(first_count_[p]) * orders;
            for (std::size_t k = offset_[p] * orders; k < offset_[p + 1] * orders; ++k, ++to)
                loose[to] = std::min(loose[to], table[k]);
        };
        if (std::int64_t* const origin = at(start, 0)) *origin = window_cost::none;
        enter(start);
        for (std::size_t to = start + 1, next = start + 1; to <= end; ++to) {
            if (to == end) {
                std::fill(loose.begin(), loose.end(), window_cost::never);
                next = start;
            }
            for (; next <= last_loose_start(to); ++next) enter(next);
            if (offset_[to] == offset_[to + 1]) continue;
            std::size_t by = static_cast<std::size_t>(first_count_[to]) * orders;
            for (std::size_t k = offset_[to] * orders; k < offset_[to + 1] * orders; ++k, ++by) table[k] = loose[by];
            for (const slab_weights& s : slabs_to_[to]) {
                const std::int64_t c = cost(s);
                if (c == window_cost::never) continue;
                for (std::size_t k = offset_[to]; k < offset_[to + 1]; ++k) {
                    const std::int64_t count = first_count_[to] + static_cast<std::int64_t>(k - offset_[to]);
                    const std::int64_t* const before = at(s.from, count - s.pieces);
                    if (before == nullptr) continue;
                    for (std::size_t order = 0; order < orders; ++order) {
                        const std::size_t behind = orders_.behind(order, s.option);
                        if (before[order] == window_cost::never || behind == order_states::none) continue;
                        std::int64_t& best = table[k * orders + behind];
                        best = std::min(best, std::max(before[order], c));
                    }
                }
            }
        }
        const std::int64_t* const all = at(end, portions_);
        return all ? *std::min_element(all, all + orders) : window_cost::never;
    }

    const cutting_problem& problem_;
    std::int64_t portions_;
    std::size_t entries_ = 0; ///< of the tables of all searches
    order_states orders_;
    std::vector<std::vector<slab_weights>> slabs_to_;
    std::vector<std::size_t> last_loose_start_;
    std::vector<std::int64_t> first_count_; ///< by position: counts in front of it that lead to all portions start here
    std::vector<std::size_t> offset_;       ///< by position: into the table, as many entries as there are counts
};

} // namespace tranche::detail
