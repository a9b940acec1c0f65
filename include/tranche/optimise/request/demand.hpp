// How many portions of a spec are wanted: at least, at most or exactly so many.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// How many portions (pieces, not slabs) of one spec a plan must have. The spec goes by its name, or by its index into the
/// request's specs.
struct demand {
    static constexpr std::int64_t any_number = std::numeric_limits<std::int64_t>::max();

    std::variant<std::string, std::size_t> spec{};
    std::int64_t at_least = 0;         ///< zero or more
    std::int64_t at_most = any_number; ///< at least `at_least`

    friend bool operator==(const demand&, const demand&) = default;
};

/// demand of `count` portions or more, or fewer, or of just as many, of the spec of that name or index. Portions, not
/// slabs; `count` is zero or more. Nothing is checked here: `validate` is asked by every way to plan. Throws nothing.
template <class = detail::when_called>
[[nodiscard]] demand at_least(std::int64_t count, std::string spec) {
    return {.spec = std::move(spec), .at_least = count};
}
/// The same by the index of the spec.
template <class = detail::when_called>
[[nodiscard]] demand at_least(std::int64_t count, std::size_t spec) {
    return {.spec = spec, .at_least = count};
}
/// `count` portions or fewer; otherwise as `at_least`; throws nothing.
template <class = detail::when_called>
[[nodiscard]] demand at_most(std::int64_t count, std::string spec) {
    return {.spec = std::move(spec), .at_most = count};
}
/// The same by the index of the spec.
template <class = detail::when_called>
[[nodiscard]] demand at_most(std::int64_t count, std::size_t spec) {
    return {.spec = spec, .at_most = count};
}
/// Just `count` portions; otherwise as `at_least`; throws nothing.
template <class = detail::when_called>
[[nodiscard]] demand exactly(std::int64_t count, std::string spec) {
    return {.spec = std::move(spec), .at_least = count, .at_most = count};
}
/// The same by the index of the spec.
template <class = detail::when_called>
[[nodiscard]] demand exactly(std::int64_t count, std::size_t spec) {
    return {.spec = spec, .at_least = count, .at_most = count};
}

/// As many portions of each spec as a plan has, no more and no fewer: what a choice from a front asks of another way to plan, of
/// `polish`, what-ifs and sessions. One for each spec of the plan, by its index. Throws nothing but for lack of memory.
/// O(slabs + specs).
template <class = detail::when_called>
[[nodiscard]] std::vector<demand> demands_of(const cutting_plan& plan) {
    std::vector<demand> demands;
    for (std::size_t spec = 0; spec < plan.specs.size(); ++spec) demands.push_back(exactly(0, spec));
    for (const slab& s : plan.slabs) {
        if (s.kind != slab_kind::portions) continue;
        demands[s.option].at_least += plan.spec_of(s).pieces;
        demands[s.option].at_most = demands[s.option].at_least;
    }
    return demands;
}

/// The index of the spec that a demand is for, below the number of specs. Throws `invalid_input` for a name or an index
/// that no spec has. O(specs).
template <class = detail::when_called>
[[nodiscard]] std::size_t spec_of(const demand& wanted, const std::vector<cut_spec>& specs) {
    if (const auto* index = std::get_if<std::size_t>(&wanted.spec)) {
        if (*index >= specs.size())
            throw invalid_input("demand.spec", std::to_string(*index),
                                "an index below the number of specs, " + std::to_string(specs.size()));
        return *index;
    }
    const std::string& name = std::get<std::string>(wanted.spec);
    std::string known;
    for (std::size_t i = 0; i < specs.size(); ++i) {
        if (specs[i].name == name) return i;
        known += (known.empty() ? "" : ", ") + specs[i].name;
    }
    throw invalid_input("demand.spec", '"' + name + '"', "the name of a spec: " + known);
}

/// Throws `invalid_input` for a demand that is negative, asks for more than it allows, is for no spec of the request,
/// or is the second one for its spec. Counts are portions, zero or more. O(demands × specs).
template <class = detail::when_called>
void validate(const std::vector<demand>& demands, const std::vector<cut_spec>& specs) {
    std::vector<bool> named(specs.size());
    for (const demand& wanted : demands) {
        const std::size_t spec = spec_of(wanted, specs);
        const std::string where = "demand for " + specs[spec].name;
        if (wanted.at_least < 0)
            throw invalid_input(where + ": at_least", std::to_string(wanted.at_least), "zero or more portions");
        if (wanted.at_most < wanted.at_least)
            throw invalid_input(where + ": at_most", std::to_string(wanted.at_most),
                                "no fewer than at_least, " + std::to_string(wanted.at_least));
        if (named[spec]) throw invalid_input(where, "twice", "one demand for each spec");
        named[spec] = true;
    }
}

/// What a demand does to the score.
struct demand_price {
    std::size_t spec = 0; ///< index into the specs
    double price = 0.0;   ///< of one portion, in units of the objective: see `demand_tiling::prices`

    friend bool operator==(const demand_price&, const demand_price&) = default;
};

/// A demand that cannot be met, and what can.
struct demand_shortfall {
    std::size_t spec = 0;      ///< index into the specs
    std::int64_t wanted = 0;   ///< portions asked for, at least
    std::int64_t possible = 0; ///< portions that can be had: of this spec alone, or beside the other demands
    std::string text{};        ///< one sentence that says so

    friend bool operator==(const demand_shortfall&, const demand_shortfall&) = default;
};

namespace detail {

/// Counts the slabs of one option.
struct slab_count_objective {
    using score_type = std::int64_t;
    std::size_t counted = 0; ///< an option of the problem

    [[nodiscard]] score_type opening(std::size_t, std::size_t) const { return 0; }
    [[nodiscard]] score_type closing(std::size_t option, std::size_t) const { return option == counted ? 1 : 0; }
};

} // namespace detail

namespace detail {

/// A demand in slabs, and only as far as it can bind.
struct slab_demand {
    static constexpr std::int64_t unlimited = std::numeric_limits<std::int64_t>::max();

    std::size_t option = 0;
    std::int64_t least = 0, most = unlimited;
    std::int64_t portions = 0; ///< asked for, at least, as far as the loin gives them

    [[nodiscard]] bool capped() const { return most != unlimited; }
    [[nodiscard]] bool met_by(std::int64_t slabs) const { return least <= slabs && slabs <= most; }
};

struct slab_demands {
    std::vector<slab_demand> rows;            ///< those that may bind, as far as each can be met by itself
    std::vector<demand_shortfall> shortfalls; ///< those that no plan meets
};

/// The demands in slabs, held against the most slabs of each spec that the loin gives. O(positions × options) a demand.
template <class = when_called>
[[nodiscard]] slab_demands in_slabs(const cutting_problem& problem, const std::vector<demand>& demands) {
    slab_demands result;
    for (const demand& wanted : demands) {
        const std::size_t spec = spec_of(wanted, problem.specs());
        const std::int64_t pieces = problem.specs()[spec].pieces;
        slab_demand row{.option = problem.loose_count() + spec,
                        .least = wanted.at_least / pieces + (wanted.at_least % pieces != 0 ? 1 : 0),
                        .portions = wanted.at_least};
        if (wanted.at_most != demand::any_number) row.most = wanted.at_most / pieces;
        const std::int64_t possible = best_path(problem, slab_count_objective{row.option}).score;
        row.portions = std::min(row.portions, possible * pieces);
        demand_shortfall shortfall{.spec = spec, .wanted = wanted.at_least, .possible = possible * pieces};
        const std::string asked = problem.specs()[spec].name + ": " + std::to_string(wanted.at_least) +
                                  (wanted.at_least == 1 ? " portion is asked for" : " portions are asked for");
        if (row.least > possible) {
            shortfall.text = asked + ", and the loin gives " + std::to_string(shortfall.possible) + " at most";
            result.shortfalls.push_back(std::move(shortfall));
            row.least = possible;
        } else if (row.least > row.most) {
            shortfall.possible = row.most * pieces;
            shortfall.text = asked + " and " + std::to_string(wanted.at_most) + " allowed, but they come " +
                             std::to_string(pieces) + " to a slab; ask for " + std::to_string(row.most * pieces) +
                             " or " + std::to_string(row.least * pieces);
            result.shortfalls.push_back(std::move(shortfall));
            row.least = row.most;
        }
        if (row.most >= possible) row.most = slab_demand::unlimited;
        if (row.least > 0 || row.capped()) result.rows.push_back(row);
    }
    return result;
}

/// How many slabs of each row's spec there are.
template <class = when_called>
[[nodiscard]] std::vector<std::int64_t> slabs_of(const cutting_problem& problem, const std::vector<slab_demand>& rows,
                                                 const std::vector<grid_slab>& stretches) {
    std::vector<std::int64_t> counts(rows.size());
    for (std::size_t k = 0; k < rows.size(); ++k)
        for (const grid_slab& s : stretches)
            counts[k] += s.kind == slab_kind::portions && problem.loose_count() + s.option == rows[k].option ? 1 : 0;
    return counts;
}

/// How many portions the demands ask for and a plan does not have; nothing if it has more of a cut than is allowed.
template <class = when_called>
[[nodiscard]] std::optional<std::int64_t> portions_missing(const cutting_problem& problem,
                                                           const std::vector<demand>& demands,
                                                           const std::vector<grid_slab>& stretches) {
    std::int64_t missing = 0;
    for (const demand& wanted : demands) {
        const std::size_t spec = spec_of(wanted, problem.specs());
        const std::int64_t has = slabs_of(problem, {{.option = problem.loose_count() + spec}}, stretches).front() *
                                 problem.specs()[spec].pieces;
        if (has > wanted.at_most) return std::nullopt;
        missing += std::clamp<std::int64_t>(wanted.at_least - has, 0, std::int64_t{1} << 40U); // sums of them fit
    }
    return missing;
}

template <class = when_called>
[[nodiscard]] bool all_met(const std::vector<slab_demand>& rows, const std::vector<std::int64_t>& counts) {
    for (std::size_t k = 0; k < rows.size(); ++k)
        if (!rows[k].met_by(counts[k])) return false;
    return true;
}

} // namespace detail

} // namespace tranche
