// What there is to choose from where evenness counts too: how far apart the lightest and the heaviest portion are.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/plans/front.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// A Pareto front with evenness: points that differ by less than the bound may be missing.
struct even_front {
    std::vector<front_point> points; ///< most portions first, then least waste
    /// Whatever plan there is on the grid, some point has as many portions, no more waste (nor a thinner slab, where
    /// that counts) and a spread at most this much larger. Zero: no plan is as good as a point in everything and
    /// better in one.
    micrograms spread_bound{};
    search_end ended = search_end::by_itself;

    /// `spread_bound.count` where the search was cut short: nothing is known then of plans that are not there.
    static constexpr std::int64_t unknown = std::numeric_limits<std::int64_t>::max();

    friend bool operator==(const even_front&, const even_front&) = default;
};

/// How much work a front with evenness may be.
struct evenness_search {
    std::size_t most_tables = 2000; ///< above zero; each takes about as long as `count_and_waste_front`

    friend bool operator==(const evenness_search&, const evenness_search&) = default;
};

namespace detail {

/// The weights that portions can have, each once: as the lightest piece of a slab, and as the heaviest. They differ
/// where a slab is not a whole number of micrograms for each. Of more than `most` only the first and the last are there.
struct portion_weights {
    std::vector<std::int64_t> lightest, heaviest;
    bool all = true;

    portion_weights(const cutting_problem& problem, std::size_t most) {
        const std::size_t room = 4 * std::min<std::size_t>(most, 1'000'000) + 64;
        problem.graph().each_portion_slab([&](const slab_lane& lane, std::size_t from, std::size_t to) {
            const std::int64_t slab = problem.weight(lane.option(), from, to), pieces = problem.pieces(lane.option());
            lightest.push_back(slab / pieces);
            heaviest.push_back((slab + pieces - 1) / pieces);
            if (lightest.size() >= (all ? room : 64)) tidy(most);
        });
        tidy(most);
    }

private:
    void tidy(std::size_t most) {
        for (auto* const some : {&lightest, &heaviest}) {
            std::sort(some->begin(), some->end());
            some->erase(std::unique(some->begin(), some->end()), some->end());
            all = all && some->size() <= most;
        }
        for (auto* const some : {&lightest, &heaviest})
            if (!all && some->size() > 2) some->erase(some->begin() + 1, some->end() - 1);
    }
};

/// Weights of portions in micrograms, both ends included.
struct weight_window {
    std::int64_t low, high;
    [[nodiscard]] std::int64_t spread() const { return high - low; }
};

/// Windows to look into, narrowest first, and how much further than a plan's own spread the narrowest that holds it
/// may be.
struct weight_windows {
    std::vector<weight_window> all;
    std::int64_t bound = 0;

    weight_windows(const portion_weights& weights, std::size_t most) {
        const std::size_t lows = weights.lightest.size(), highs = weights.heaviest.size();
        if (lows == 0) return;
        if (weights.all && lows * highs / 2 <= most) {
            for (const std::int64_t low : weights.lightest)
                for (const std::int64_t high : weights.heaviest)
                    if (low <= high) all.push_back({low, high});
        } else {
            // Steps of one size: whatever the lightest portion is, a window starts less than a step below it.
            const auto steps =
                static_cast<std::int64_t>(std::max(1.0, std::sqrt(2.0 * static_cast<double>(most)) - 1.0));
            const std::int64_t first = weights.lightest.front(), last = weights.heaviest.back();
            const std::int64_t step = (last - first) / steps + 1;
            for (std::int64_t low = 0; low < steps; ++low)
                for (std::int64_t high = low + 1; high <= steps; ++high)
                    all.push_back({first + low * step, first + high * step});
            bound = 2 * step;
        }
        std::stable_sort(all.begin(), all.end(),
                         [](const weight_window& a, const weight_window& b) { return a.spread() < b.spread(); });
    }
};

/// Collects points that none so far is as good as.
template <class = when_called>
class even_front_builder {
public:
    even_front_builder(const profile& meat, const cut_list& specs, const cutting_rules& rules,
                       const evenness_search& search, const std::vector<demand>& demands, const search_limits& limits,
                       bool with_thickness)
        : problem_(meat, specs, rules), with_thickness_(with_thickness), clock_(limits),
          plans_(problem_, demands, clock_, tables_of(search)) {
        if (search.most_tables == 0) throw invalid_input("most_tables", "0", "one or more");
        const std::vector<length> thicknesses =
            with_thickness ? thicknesses_of(problem_) : std::vector<length>{length{}};
        if (thicknesses.empty() || plans_.most() == 0) return; // no slab fits anywhere, or not as many as asked for
        if (plans_.few()) {
            const std::size_t most = std::max(std::size_t{1}, search.most_tables / thicknesses.size());
            const weight_windows windows(portion_weights(problem_, most), most);
            front_.spread_bound = {windows.bound};
            for (const length& thinnest : thicknesses) // thickest first, narrowest first: better ones are there already
                for (const weight_window& window : windows.all)
                    if (clock_.go_on()) look_into(window, thinnest);
        } else {
            front_.points = plans_.ends();
        }
        if (!plans_.few() || plans_.cut_short()) front_.spread_bound = {even_front::unknown};
        front_.ended = plans_.ended();
        tidy();
    }
    [[nodiscard]] even_front result() && { return std::move(front_); }

private:
    /// Ten for each window, as cuts that must have one thickness take several.
    [[nodiscard]] static std::size_t tables_of(const evenness_search& search) {
        return std::max(std::min(search.most_tables, std::numeric_limits<std::size_t>::max() / 10) * 10,
                        front_search<>::most_tables);
    }

    void look_into(const weight_window& window, length thinnest) {
        cutting_problem problem = problem_;
        problem.narrow_weights(window.low, window.high);
        problem.narrow_thickness(thinnest);
        cutting_problem apart = problem;
        apart.let_thicknesses_differ();
        const auto objective = kept_mass_objective::portions_then_mass(problem);
        const std::size_t most =
            std::min(plans_.most(), portion_count(problem.specs(), best_path(apart, objective).stretches));
        if (most == 0) return;
        std::vector<std::int64_t> have(most + 1, -1); // the most mass of points that are as good in all else
        for (const front_point& p : front_.points)
            if (p.spread.count <= window.spread() && (!with_thickness_ || snapped(p.thinnest) >= snapped(thinnest)))
                for (std::size_t n = std::min(most, p.portions); n > 0; --n)
                    have[n] = std::max(have[n], (problem.meat().total() - p.waste).count);
        const masses_by_count found = plans_.more_than(have, problem);
        for (std::size_t n = most; n > 0; --n) {
            if (found.slabs[n].empty()) continue;
            std::vector<grid_slab> even = found.slabs[n];
            even_out(problem, objective, even);
            front_point point = front_point_of(problem_, even);
            if (with_thickness_ && snapped(point.thinnest) < snapped(thinnest))
                point = front_point_of(problem_, found.slabs[n]);
            point.waste_bound = problem.meat().total() - micrograms{found.bound[n]};
            front_.points.push_back(std::move(point));
        }
    }

    /// Whether `a` is as good as `b` in everything.
    [[nodiscard]] bool covers(const front_point& a, const front_point& b) const {
        return a.portions >= b.portions && a.waste <= b.waste && a.spread <= b.spread &&
               (!with_thickness_ || snapped(a.thinnest) >= snapped(b.thinnest));
    }
    /// Drops what another point is as good as, the later of equals, and sorts.
    void tidy() {
        std::vector<front_point> kept;
        const std::vector<front_point>& all = front_.points;
        for (std::size_t i = 0; i < all.size(); ++i) {
            bool beaten = false;
            for (std::size_t k = 0; k < all.size() && !beaten; ++k)
                beaten = k != i && covers(all[k], all[i]) && (k < i || !covers(all[i], all[k]));
            if (!beaten) kept.push_back(all[i]);
        }
        std::stable_sort(kept.begin(), kept.end(), [](const front_point& a, const front_point& b) {
            return std::tuple(b.portions, a.waste, a.spread) < std::tuple(a.portions, b.waste, b.spread);
        });
        front_.points = std::move(kept);
    }

    cutting_problem problem_;
    bool with_thickness_;
    search_clock clock_;
    front_search<> plans_;
    even_front front_;
};

} // namespace detail

/// The Pareto front of count against waste against evenness: the spread of a plan is its heaviest portion less its
/// lightest, of all specs together, so it is meant for cuts that should weigh alike. Empty if no portion fits, or no plan meets
/// the demands.
///
/// Plans whose portions lie within a window of weights are found as for `count_and_waste_front`, for many windows: all
/// there are between two weights that portions can have, which is exact, if those are no more than
/// `search.most_tables`; otherwise windows on even steps, as fine as that allows, and the result says how much evenness
/// may be missed. O(positions × portions × options × tables). It ends early as `count_and_waste_front`, a window being
/// a pass too: then the points are those of the narrowest windows, each with its `waste_bound`, and the bound is
/// `even_front::unknown`. Throws `invalid_input` as that does, and for no tables. Weights are whole micrograms.
template <class = detail::when_called>
[[nodiscard]] even_front count_waste_and_evenness_front(const profile& meat, const cut_list& specs,
                                                        const cutting_rules& rules = {},
                                                        const evenness_search& search = {},
                                                        const std::vector<demand>& demands = {},
                                                        const search_limits& limits = {}) {
    return detail::even_front_builder<>(meat, specs, rules, search, demands, limits, false).result();
}

/// The same against thickness as well, that of the thinnest slab of portions: all that can be chosen between. Tables
/// are needed for each thickness that the windows of the specs allow, so the bound is larger for the same number of
/// them. Throws as `count_waste_and_evenness_front`. Thicknesses are lengths above zero.
template <class = detail::when_called>
[[nodiscard]] even_front count_waste_thickness_and_evenness_front(const profile& meat, const cut_list& specs,
                                                                  const cutting_rules& rules = {},
                                                                  const evenness_search& search = {},
                                                                  const std::vector<demand>& demands = {},
                                                                  const search_limits& limits = {}) {
    return detail::even_front_builder<>(meat, specs, rules, search, demands, limits, true).result();
}

} // namespace tranche
