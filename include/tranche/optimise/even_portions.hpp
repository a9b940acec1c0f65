// Equal weights by varying thickness: the plan whose lightest and heaviest portion lie nearest together.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/optimise/count_states.hpp>
#include <tranche/optimise/cutting_problem.hpp>
#include <tranche/optimise/plans.hpp>
#include <tranche/optimise/portion_objectives.hpp>
#include <tranche/units/when_called.hpp>

namespace tranche {

namespace detail {

/// Finds the narrowest window of weights within which a loin can be cut into just so many portions.
template <class = when_called>
class even_search {
public:
    struct weights {
        std::int64_t lightest = 0, heaviest = 0; ///< of one portion, in micrograms
        [[nodiscard]] std::int64_t spread() const { return heaviest - lightest; }
    };

    even_search(const cutting_problem& problem, std::int64_t portions)
        : problem_(problem), portions_(portions), slabs_to_(problem.cells() + 1) {
        for (std::size_t o = problem.loose_count(); o < problem.option_count(); ++o) add_slabs(o);
        bound_counts();
    }

    /// None if there is no such tiling. Of windows equally narrow the one of the heaviest portions.
    ///
    /// With L(h) the largest lightest portion among tilings without one above h, and H(l) the smallest heaviest among those
    /// without one below l, both never fall. From the top down, a window [L(h), h] is shrunk to [L(h), H(L(h))]; the next h
    /// lies below that, and so far below that a narrower window is possible at all.
    [[nodiscard]] std::optional<weights> narrowest() {
        std::optional<weights> best;
        std::int64_t most = std::numeric_limits<std::int64_t>::max() / 2;
        while (true) {
            const std::int64_t cost =
                worst([&](const slab_weights& s) { return s.heaviest > most ? never : -s.lightest; });
            if (cost == never) return best;
            const std::int64_t lightest = -cost;
            if (best && most - lightest >= best->spread()) {
                most = lightest + best->spread() - 1;
                continue;
            }
            const std::int64_t heaviest =
                worst([&](const slab_weights& s) { return s.lightest < lightest ? never : s.heaviest; });
            best = weights{lightest, heaviest};
            if (best->spread() == 0) return best;
            most = heaviest - 1;
        }
    }

    /// Counts told apart by all searches so far, in the mean over the positions and rounded up.
    [[nodiscard]] std::size_t states() const { return (entries_ + problem_.cells()) / (problem_.cells() + 1); }

private:
    static constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max();
    static constexpr std::int64_t nothing_yet = std::numeric_limits<std::int64_t>::min();
    static constexpr std::int64_t unreachable = -1;

    /// An allowed slab that ends at a position, and the portions it gives.
    struct slab_weights {
        std::size_t from;
        std::int64_t pieces, lightest, heaviest;
    };

    void add_slabs(std::size_t o) {
        const option_window& w = problem_.window(o);
        const std::int64_t pieces = problem_.pieces(o);
        for (std::size_t to = problem_.start() + 1; to <= problem_.cells(); ++to) {
            const bool at_end = to == problem_.cells();
            const std::size_t first = at_end ? w.first_to_end : to - std::min(to, w.most_cells);
            const std::size_t past = at_end ? w.last_to_end + 1 : to + 1 - std::min(to + 1, w.least_cells);
            for (std::size_t from = std::max(first, problem_.start()); from < past; ++from) {
                if (!problem_.allows(o, from, to)) continue;
                const std::int64_t weight = problem_.weight(o, from, to);
                slabs_to_[to].push_back({from, pieces, weight / pieces, (weight + pieces - 1) / pieces});
            }
        }
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

    /// The least, over all tilings of so many portions, of the largest cost of a slab; `never` if every one has a slab that
    /// costs `never`. O(slabs × counts kept).
    template <class Cost>
    [[nodiscard]] std::int64_t worst(const Cost& cost) {
        entries_ += offset_.back();
        const std::size_t start = problem_.start(), end = problem_.cells();
        std::vector<std::int64_t> table(offset_.back(), never);
        std::vector<std::int64_t> loose(static_cast<std::size_t>(portions_) + 1, never); // by count
        const auto at = [&](std::size_t p, std::int64_t count) -> std::int64_t* {
            const std::int64_t k = count - first_count_[p];
            const bool kept = k >= 0 && static_cast<std::size_t>(k) < offset_[p + 1] - offset_[p];
            return kept ? &table[offset_[p] + static_cast<std::size_t>(k)] : nullptr;
        };
        const auto enter = [&](std::size_t p) {
            for (std::size_t k = offset_[p]; k < offset_[p + 1]; ++k) {
                std::int64_t& best = loose[static_cast<std::size_t>(first_count_[p]) + k - offset_[p]];
                best = std::min(best, table[k]);
            }
        };
        if (std::int64_t* const origin = at(start, 0)) *origin = nothing_yet;
        enter(start);
        for (std::size_t to = start + 1, next = start + 1; to <= end; ++to) {
            if (to == end) {
                std::fill(loose.begin(), loose.end(), never);
                next = start;
            }
            for (; next <= last_loose_start(to); ++next) enter(next);
            if (offset_[to] == offset_[to + 1]) continue;
            for (std::size_t k = offset_[to]; k < offset_[to + 1]; ++k)
                table[k] = loose[static_cast<std::size_t>(first_count_[to]) + k - offset_[to]];
            for (const slab_weights& s : slabs_to_[to]) {
                const std::int64_t c = cost(s);
                if (c == never) continue;
                for (std::size_t k = offset_[to]; k < offset_[to + 1]; ++k) {
                    const std::int64_t count = first_count_[to] + static_cast<std::int64_t>(k - offset_[to]);
                    if (const std::int64_t* const before = at(s.from, count - s.pieces); before && *before != never)
                        table[k] = std::min(table[k], std::max(*before, c));
                }
            }
        }
        const std::int64_t* const all = at(end, portions_);
        return all ? *all : never;
    }

    const cutting_problem& problem_;
    std::int64_t portions_;
    std::size_t entries_ = 0; ///< of the tables of all searches
    std::vector<std::vector<slab_weights>> slabs_to_;
    std::vector<std::size_t> last_loose_start_;
    std::vector<std::int64_t> first_count_; ///< by position: counts in front of it that lead to all portions start here
    std::vector<std::size_t> offset_;       ///< by position: into the table, as many entries as there are counts
};

} // namespace detail

/// The most equal portions: of all plans with just `portions` of them (of all specs together; by default the most that the
/// limits allow) one with the smallest difference between the heaviest and the lightest. Of equally narrow weights the
/// heavier ones, and within these the most mass in portions. Portions within a slab are equal to the microgram.
///
/// Exact on the grid: for growing lower limits and falling upper ones, the narrowest window is closed in on by dynamic
/// programs over the largest and smallest weight so far. O(slabs that are allowed × counts that can still lead to
/// `portions`) each; how many there are depends on how near to the best the others come: some hundred on a loin.
///
/// `score` is minus that difference in micrograms. If there is no plan with so many portions, the answer is
/// `demand_impossible`, with the plan of the most portions. Throws `invalid_input` as `most_portions`, for less than one
/// portion, and for rules that link slabs with each other (`cutting_rules::order`, `cut_spec::one_thickness`).
template <class = detail::when_called>
[[nodiscard]] planned_cuts even_portions(const profile& meat, const std::vector<cut_spec>& specs,
                                         const cutting_rules& rules = {}, std::optional<std::int64_t> portions = {}) {
    if (portions && *portions < 1) throw invalid_input("portions", std::to_string(*portions), "one or more");
    const cutting_problem problem(meat, specs, rules);
    if (problem.links_slabs())
        throw invalid_input("even portions", "with an order of cuts, or one thickness for a cut", "neither");
    planned_cuts most = plan_with(problem, kept_mass_objective::portions_then_mass(problem));
    const auto possible = static_cast<std::int64_t>(most.plan.portion_count());
    const std::int64_t wanted = portions.value_or(possible);
    if (possible == 0 && !portions) return most;
    std::optional<detail::even_search<>::weights> window;
    if (wanted <= possible) {
        detail::even_search<> search(problem, wanted);
        window = search.narrowest();
        most.states += search.states();
    }
    if (!window) {
        most.stop = stop_reason::demand_impossible;
        most.shortfalls.push_back(
            {.spec = 0,
             .wanted = wanted,
             .possible = possible,
             .text = std::to_string(wanted) + (wanted == 1 ? " portion is" : " portions are") +
                     " asked for in all, and " +
                     (wanted > possible ? "the loin gives " + std::to_string(possible) + " at most"
                                        : std::string("there is no plan with just that number"))});
        return most;
    }

    std::vector<cut_spec> within = specs;
    for (cut_spec& spec : within) {
        spec.portion = {std::max(spec.portion.min, to_mass({window->lightest})),
                        std::min(spec.portion.max, to_mass({window->heaviest}))};
        if (!(spec.portion.min <= spec.portion.max)) spec.portion = 2.0 * to_mass(meat.total()); // none of this spec
    }
    const cutting_problem narrow(meat, within, rules);
    detail::slab_counter all{.top = static_cast<std::size_t>(wanted), .saturates = false, .steps = {}};
    for (std::size_t o = 0; o < narrow.option_count(); ++o)
        all.steps.push_back(static_cast<std::size_t>(narrow.pieces(o)));
    const portion_mass_objective mass_in_portions(narrow);
    const detail::count_states<portion_mass_objective> table(narrow, mass_in_portions, {all});
    planned_cuts result =
        detail::planned_from(problem, table.stretches(static_cast<std::size_t>(wanted)), -window->spread(), true);
    result.states = most.states + table.searched();
    return result;
}
template <class = detail::when_called>
[[nodiscard]] planned_cuts even_portions(const profile& meat, const cut_spec& spec, const cutting_rules& rules = {},
                                         std::optional<std::int64_t> portions = {}) {
    return even_portions(meat, std::vector{spec}, rules, portions);
}

} // namespace tranche
