// The plan that comes nearest to demands in a table of count states, what one of them costs, and what cannot be met.
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

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

template <class = when_called>
[[nodiscard]] std::vector<slab_counter> counters_of(const cutting_problem& problem,
                                                    const std::vector<slab_demand>& rows) {
    std::vector<slab_counter> counters;
    for (const slab_demand& row : rows) {
        slab_counter counter{.top = static_cast<std::size_t>(row.capped() ? row.most : row.least),
                             .saturates = !row.capped(),
                             .steps = std::vector<std::size_t>(problem.option_count())};
        counter.steps[row.option] = 1;
        counters.push_back(std::move(counter));
    }
    return counters;
}

/// The counters of the rows, and behind them one of portions in all.
template <class = when_called>
[[nodiscard]] std::vector<slab_counter> counters_of(const cutting_problem& problem,
                                                    const std::vector<slab_demand>& rows, std::size_t portions) {
    std::vector<slab_counter> counters = counters_of(problem, rows);
    counters.push_back(all_portions(problem, portions));
    return counters;
}
/// Whether a table of so many entries has room for all states of these counters, and of an order of cuts.
template <class = when_called>
[[nodiscard]] bool few_states(const cutting_problem& problem, const std::vector<slab_counter>& counters,
                              std::size_t most_entries) {
    const std::size_t room = most_entries / (problem.cells() + 1) / states_of(counters);
    return room > 0 && order_states(problem, room).fit();
}

/// Whether a state that is possible has what the rows ask for. Caps are kept in every state.
template <class Counts>
[[nodiscard]] bool has_all(const Counts& table, const std::vector<slab_demand>& rows, std::size_t state) {
    for (std::size_t k = 0; k < rows.size(); ++k)
        if (static_cast<std::int64_t>(table.digit(state, k)) < rows[k].least) return false;
    return true;
}
/// The best state in which all rows are met; the one of fewest slabs among equals.
template <objective O>
[[nodiscard]] std::optional<std::size_t> best_state(const count_states<O>& table,
                                                    const std::vector<slab_demand>& rows) {
    std::optional<std::size_t> best;
    for (std::size_t s = 0; s < table.states(); ++s)
        if (table.possible(s) && has_all(table, rows, s) && (!best || table.score(*best) < table.score(s))) best = s;
    return best;
}
/// The same among the states of so many portions, which the counter behind those of the rows counts.
template <objective O>
[[nodiscard]] std::optional<std::size_t> best_state(const count_states<O>& table, const std::vector<slab_demand>& rows,
                                                    std::size_t portions) {
    std::optional<std::size_t> best;
    for (std::size_t s = 0; s < table.states(); ++s)
        if (table.digit(s, rows.size()) == portions && table.possible(s) && has_all(table, rows, s) &&
            (!best || table.score(*best) < table.score(s)))
            best = s;
    return best;
}
/// The state that lacks the fewest of the portions asked for, and of those the best one; if all rows can be met, it meets them.
template <objective O>
[[nodiscard]] std::optional<std::size_t> nearest_state(const cutting_problem& problem, const count_states<O>& table,
                                                       const std::vector<slab_demand>& rows) {
    std::optional<std::size_t> nearest;
    std::int64_t missing = 0;
    for (std::size_t s = 0; s < table.states(); ++s) {
        if (!table.possible(s)) continue;
        std::int64_t lacks = 0;
        for (std::size_t k = 0; k < rows.size(); ++k)
            lacks += std::max<std::int64_t>(
                rows[k].portions - problem.pieces(rows[k].option) * static_cast<std::int64_t>(table.digit(s, k)), 0);
        if (nearest && (missing < lacks || (missing == lacks && !(table.score(*nearest) < table.score(s))))) continue;
        nearest = s;
        missing = lacks;
    }
    return nearest;
}

/// By row, per portion: what the last one asked for costs the score, or else minus what the last one allowed brings; of the
/// first part of a score. Nothing if that is no number.
template <objective O>
[[nodiscard]] std::vector<demand_price> prices_of(const cutting_problem& problem, const count_states<O>& table,
                                                  const std::vector<slab_demand>& rows, std::size_t best) {
    std::vector<demand_price> prices;
    const auto number = [&](std::size_t state) { return numbers_of(table.score(state)); };
    if (number(best).empty()) return prices;
    for (std::size_t k = 0; k < rows.size(); ++k) {
        const double pieces = problem.pieces(rows[k].option);
        demand_price price{.spec = rows[k].option - problem.loose_count()};
        std::vector<slab_demand> others = rows;
        others[k].least = std::max<std::int64_t>(rows[k].least - 1, 0);
        if (const auto without = best_state(table, others); without && rows[k].least > 0)
            price.price = (number(*without).front() - number(best).front()) / pieces;
        if (!(price.price > 0.0) && rows[k].capped() && rows[k].most > rows[k].least) {
            std::optional<std::size_t> fewer; // within a cap that is lower by one
            for (std::size_t s = 0; s < table.states(); ++s) {
                bool met = table.possible(s) && static_cast<std::int64_t>(table.digit(s, k)) < rows[k].most;
                for (std::size_t j = 0; met && j < rows.size(); ++j)
                    met = static_cast<std::int64_t>(table.digit(s, j)) >= rows[j].least;
                if (met && (!fewer || table.score(*fewer) < table.score(s))) fewer = s;
            }
            if (fewer) price.price = (number(*fewer).front() - number(best).front()) / pieces;
        }
        prices.push_back(price);
    }
    return prices;
}

/// Counts the slabs of one option in tilings that another objective does not forbid.
template <objective O>
struct allowed_slab_count {
    using score_type = double;
    const O* inner = nullptr;
    std::size_t counted = 0; ///< an option of the problem

    [[nodiscard]] double opening(std::size_t option, std::size_t from) const requires separable_objective<O> {
        return unless_forbidden(0.0, inner->opening(option, from));
    }
    [[nodiscard]] double closing(std::size_t option, std::size_t to) const requires separable_objective<O> {
        return unless_forbidden(option == counted ? 1.0 : 0.0, inner->closing(option, to));
    }
    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const
        requires(!separable_objective<O>) {
        return unless_forbidden(option == counted ? 1.0 : 0.0, inner->slab(option, from, to));
    }

private:
    [[nodiscard]] static double unless_forbidden(double count, const typename O::score_type& score) {
        return forbids(score) ? -std::numeric_limits<double>::infinity() : count;
    }
};
template <objective O>
[[nodiscard]] auto count_of_slabs(const O& objective, std::size_t option) {
    if constexpr (always_finite<typename O::score_type>)
        return slab_count_objective{option};
    else
        return allowed_slab_count<O>{&objective, option};
}

/// Demands that clash in a way that leaving one out does not mend.
template <class = when_called>
[[nodiscard]] std::vector<demand_shortfall> shortfalls_of_clash(const cutting_problem& problem,
                                                                const std::vector<slab_demand>& rows,
                                                                const std::string& how = "") {
    std::string clash;
    const slab_demand* first = nullptr;
    for (const slab_demand& row : rows) {
        if (row.least == 0) continue;
        if (first == nullptr) first = &row;
        const cut_spec& spec = problem.spec_of(row.option);
        clash += (clash.empty() ? "" : " and ") + std::to_string(row.least * spec.pieces) + " of " + spec.name;
    }
    if (first == nullptr) first = &rows.front();
    return {{.spec = first->option - problem.loose_count(),
             .wanted = first->least * problem.spec_of(first->option).pieces,
             .possible = 0,
             .text = clash.empty() // then they are caps, and it is the objective that wants more
                         ? "no plan that the objective allows has as few portions as the demands allow"
                         : "the loin does not give " + clash + " at once" + how}};
}

/// Demands that can be met one by one but not together, or not with what the objective leaves: how far each can be met
/// beside all others.
template <objective O>
[[nodiscard]] std::vector<demand_shortfall> shortfalls_together(const cutting_problem& problem, const O& objective,
                                                                const std::vector<slab_demand>& rows,
                                                                std::size_t most_entries) {
    std::vector<demand_shortfall> result;
    for (std::size_t k = 0; k < rows.size(); ++k) {
        if (rows[k].least == 0) continue;
        const cut_spec& spec = problem.spec_of(rows[k].option);
        std::vector<slab_demand> others = rows;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(k));
        const auto counted = count_of_slabs(objective, rows[k].option);
        const count_states table(problem, counted, counters_of(problem, others), most_entries);
        const auto best = best_state(table, others);
        if (!best) continue;
        const std::int64_t wanted = rows[k].least * spec.pieces,
                           possible = static_cast<std::int64_t>(table.score(*best)) * spec.pieces;
        result.push_back({.spec = rows[k].option - problem.loose_count(),
                          .wanted = wanted,
                          .possible = possible,
                          .text = spec.name + ": " + std::to_string(wanted) + " portions are asked for, and beside " +
                                  "the other demands the loin gives " + std::to_string(possible) + " at most"});
    }
    if (result.empty()) result = shortfalls_of_clash(problem, rows, ", nor if any one of these is left out");
    return result;
}

/// Adds those demands that a plan does not meet and that have no shortfall yet.
template <class = when_called>
void add_missing(const cutting_problem& problem, const std::vector<demand>& demands,
                 const std::vector<grid_slab>& stretches, const std::string& why,
                 std::vector<demand_shortfall>& shortfalls) {
    for (const demand& wanted : demands) {
        const std::size_t spec = spec_of(wanted, problem.specs());
        const cut_spec& cut = problem.specs()[spec];
        const std::int64_t has =
            slabs_of(problem, {{.option = problem.loose_count() + spec}}, stretches).front() * cut.pieces;
        const auto named = [&](const demand_shortfall& s) { return s.spec == spec; };
        if (has >= wanted.at_least || std::any_of(shortfalls.begin(), shortfalls.end(), named)) continue;
        shortfalls.push_back({.spec = spec,
                              .wanted = wanted.at_least,
                              .possible = has,
                              .text = cut.name + ": " + std::to_string(wanted.at_least) +
                                      " portions are asked for, and " + why + " " + std::to_string(has)});
    }
}

} // namespace tranche::detail
