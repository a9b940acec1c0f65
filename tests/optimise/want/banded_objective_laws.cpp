// Objectives that are separable in bands of weight: the plans of the engine are those of the same objective by whole slabs.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include <tranche/optimise/plans/plans.hpp>

#include "optimise/instances.hpp"

namespace banded_objective_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

/// A rate by weight class: dear in the middle, little where light, something off where heavy. Invented.
struct rate_by_class {
    using score_type = std::int64_t;
    const cutting_problem* problem;
    std::vector<std::int64_t> limits, rates,
        each; ///< of a class: the largest weight, what a microgram and a slab score

    [[nodiscard]] std::vector<std::int64_t> bands(std::size_t option) const {
        std::vector<std::int64_t> of_slab = limits;
        for (std::int64_t& limit : of_slab) limit *= problem->pieces(option);
        return of_slab;
    }
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const {
        if (!problem->is_portion(option)) return -static_cast<std::int64_t>(to - from);
        const std::int64_t weight = problem->weight(option, from, to);
        const std::vector<std::int64_t> of_slab = bands(option);
        std::size_t k = 0;
        while (k < of_slab.size() && weight > of_slab[k]) ++k;
        return rates[k] * weight + each[k];
    }
    [[nodiscard]] score_type band_opening(std::size_t option, std::size_t band, std::size_t from) const {
        return -rates[band] * problem->front(option)[from];
    }
    [[nodiscard]] score_type band_closing(std::size_t option, std::size_t band, std::size_t to) const {
        return rates[band] * problem->back(option)[to] + each[band];
    }
    [[nodiscard]] score_type loose_opening(std::size_t, std::size_t from) const {
        return static_cast<std::int64_t>(from);
    }
    [[nodiscard]] score_type loose_closing(std::size_t, std::size_t to) const { return -static_cast<std::int64_t>(to); }
};

/// The same with its bands hidden.
template <objective O>
struct by_whole_slabs {
    using score_type = typename O::score_type;
    O inner;
    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        return slab_score(inner, o, from, to);
    }
};

using counted = lexicographic_objective<portion_count_objective, overweight_objective>;
static_assert(banded_objective<rate_by_class>);
static_assert(banded_objective<overweight_objective>);
static_assert(banded_objective<counted>);
static_assert(!banded_objective<by_whole_slabs<rate_by_class>>);
static_assert(!banded_objective<evenness_objective>);
static_assert(!banded_objective<kept_mass_objective>); // separable as it is
static_assert(!banded_objective<lexicographic_objective<overweight_objective, overweight_objective>>);

} // namespace

TEST_CASE("an objective in bands of weight finds the score and the cuts of the same objective by whole slabs") {
    std::size_t several = 0, met = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 910'000);
        request r = request_of_size(d, 60, 300);
        if (seed % 3 == 1) add_limits(d, r);
        if (seed % 3 == 2) {
            add_limits(d, r);
            add_links(d, r);
        }
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const std::int64_t slab = r.meat.total().count * 12 / static_cast<std::int64_t>(r.meat.cells());
        rate_by_class rate{&problem, {}, {}, {}};
        for (std::size_t k = d.whole(0, 3); k > 0; --k)
            rate.limits.push_back(static_cast<std::int64_t>(d.between(0.2, 2.0) * static_cast<double>(slab)));
        std::sort(rate.limits.begin(), rate.limits.end());
        for (std::size_t k = 0; k <= rate.limits.size(); ++k) {
            rate.rates.push_back(static_cast<std::int64_t>(d.whole(0, 9)));
            rate.each.push_back(static_cast<std::int64_t>(d.between(-1.0, 1.0) * static_cast<double>(slab)));
        }
        std::vector<demand> demands;
        for (std::size_t i = 0; i < r.specs.size(); ++i)
            demands.push_back({.spec = i, .at_least = 0, .at_most = static_cast<std::int64_t>(d.whole(0, 3))});
        CAPTURE(seed, rate.limits.size());
        const auto check = [&](const auto& objective) {
            const by_whole_slabs<std::decay_t<decltype(objective)>> whole{objective};
            const auto found = best_path(problem, objective);
            const auto expected = best_path(problem, whole);
            CHECK(found.score == expected.score);
            CHECK(found.stretches == expected.stretches);
            const auto capped = best_path_with_demand(problem, objective, demands);
            const auto as_capped = best_path_with_demand(problem, whole, demands);
            CHECK(capped.score == as_capped.score);
            CHECK(capped.stretches == as_capped.stretches);
            met += capped.states > 1;
            return found.stretches;
        };
        std::vector<std::size_t> used(rate.limits.size() + 1);
        for (const grid_slab& s : check(rate)) {
            if (s.kind != slab_kind::portions) continue;
            const std::size_t o = problem.loose_count() + s.option;
            const std::vector<std::int64_t> limits = rate.bands(o);
            ++used[static_cast<std::size_t>(
                std::lower_bound(limits.begin(), limits.end(), problem.weight(o, s.from, s.to)) - limits.begin())];
        }
        several +=
            static_cast<std::size_t>(std::count_if(used.begin(), used.end(), [](std::size_t n) { return n > 0; })) > 1;
        charged_weights charged;
        for (const cut_spec& spec : r.specs)
            charged[spec.name] = to_mass({slab}) * d.between(0.3, 1.5) / static_cast<double>(spec.pieces);
        check(counted(portion_count_objective(problem), overweight_objective(problem, charged)));
    }
    CHECK(several > 4);
    CHECK(met > 30);
}

} // namespace banded_objective_laws
