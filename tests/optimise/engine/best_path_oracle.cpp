// The engine against every tiling of small loins, one after the other, and its two methods against each other.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstdint>
#include <string>
#include <tuple>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace best_path_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

struct mass_and_count {
    std::int64_t mass = 0, count = 0;
    friend bool operator==(const mass_and_count&, const mass_and_count&) = default;
};
struct mass_first : mass_and_count {
    friend mass_first operator+(const mass_first& a, const mass_first& b) {
        return {{a.mass + b.mass, a.count + b.count}};
    }
    friend bool operator<(const mass_first& a, const mass_first& b) {
        return std::tie(a.mass, a.count) < std::tie(b.mass, b.count);
    }
};
struct count_first : mass_and_count {
    friend count_first operator+(const count_first& a, const count_first& b) {
        return {{a.mass + b.mass, a.count + b.count}};
    }
    friend bool operator<(const count_first& a, const count_first& b) {
        return std::tie(a.count, a.mass) < std::tie(b.count, b.mass);
    }
};

mass_and_count in_portions(const cutting_plan& p) {
    mass_and_count sum;
    for (const slab& s : p.slabs)
        if (s.kind == slab_kind::portions) {
            sum.mass += s.weight().count;
            sum.count += p.spec_of(s).pieces;
        }
    return sum;
}

template <class Result>
Result best_of_all_tilings(const small_request& all) {
    return all.best<Result>([&](std::size_t o, std::size_t from, std::size_t to) {
        return all.is_portion(o) ? Result{{all.masses(o, from, to).weight(), all.spec(o).pieces}} : Result{};
    });
}

/// The engine's own cuts, before they are evened out.
cutting_plan cut_by(const request& r, const std::vector<grid_slab>& stretches) {
    return lay_out(r.meat, r.specs, r.rules, stretches);
}

void check_sound(const request& r, const cutting_plan& p) {
    CHECK(verify(p, r.meat, r.specs, r.rules) == std::vector<std::string>{});
    CHECK(balance_of(p).total() == r.meat.total());
}

/// A user's objective over whole slabs, in whole numbers: portions near a weight and a width of their own.
struct near_a_target {
    using score_type = std::int64_t;
    const cutting_problem* problem;
    std::int64_t target;

    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        const auto cells = static_cast<std::int64_t>(to - from);
        if (!problem->is_portion(o)) return -7 * cells;
        const std::int64_t off = problem->weight(o, from, to) - target;
        return 400 - (off < 0 ? -off : off) / 1'000'000 + 3 * cells * cells;
    }
};

/// The same in floating point, with a root in it.
struct root_of_weight {
    using score_type = double;
    const cutting_problem* problem;

    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        const double weight = 1e-9 * static_cast<double>(problem->weight(o, from, to));
        return problem->is_portion(o) ? std::sqrt(weight) - 0.05 * static_cast<double>(o) : -0.1 * weight;
    }
};

} // namespace

TEST_CASE("an option allows a slab exactly when its spec and the rules do") {
    std::size_t allowed = 0, refused = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        dice d(seed + 1'000'000);
        request r = random_request(d, 1, 20);
        if (seed % 2 == 1) add_limits(d, r);
        if (!(r.rules.facing < r.meat.extent())) continue;
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        REQUIRE(problem.start() == all.start());
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            for (std::size_t from = problem.start(); from < problem.cells(); ++from)
                for (std::size_t to = from + 1; to <= problem.cells(); ++to) {
                    const bool expected = all.allowed(o, from, to);
                    ++(expected ? allowed : refused);
                    CAPTURE(seed, o, from, to, problem.cells());
                    if (problem.allows(o, from, to) != expected) CHECK(problem.allows(o, from, to) == expected);
                    if (expected && problem.weight(o, from, to) != all.masses(o, from, to).weight())
                        CHECK(problem.weight(o, from, to) == all.masses(o, from, to).weight());
                }
    }
    CHECK(allowed > 10'000); // the claim is not empty on either side
    CHECK(refused > 10'000);
}

TEST_CASE("most portions and least waste equal the best of all tilings") {
    std::size_t with_portions = 0;
    for (std::uint64_t seed = 0; seed < rounds(1'200); ++seed) {
        dice d(seed);
        const request r = few_tilings(d, 1.0);
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed, problem.cells(), all.tilings());

        const mass_and_count most = best_of_all_tilings<count_first>(all), least = best_of_all_tilings<mass_first>(all);
        const auto by_count = best_path(problem, kept_mass_objective::portions_then_mass(problem));
        CHECK(in_portions(cut_by(r, by_count.stretches)) == most);
        CHECK(by_count.score == most.mass + most.count * (r.meat.total().count + 1));

        const auto by_mass = kept_mass_objective::mass_then_portions(problem);
        const auto kept = best_path(problem, by_mass);
        CHECK(in_portions(cut_by(r, kept.stretches)) == least);

        const planned plans[] = {most_portions(r.meat, r.specs, r.rules), least_waste(r.meat, r.specs, r.rules)};
        CHECK(in_portions(plans[0].plan) == most); // also after evening out
        CHECK(in_portions(plans[1].plan) == least);
        for (const planned& planned : plans) {
            CHECK(planned.feasible() == (most.count > 0));
            check_sound(r, planned.plan);
        }
        with_portions += most.count > 0;
    }
    CHECK(with_portions > rounds(1'200) / 2);
}

TEST_CASE("the score of a plan is the sum over the masses it states") {
    for (std::uint64_t seed = 0; seed < rounds(900); ++seed) {
        dice d(seed + 5'000);
        const request r = random_request(d, 20, 300);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed);

        const auto by_count = best_path(problem, kept_mass_objective::portions_then_mass(problem));
        const mass_and_count by_hand = in_portions(cut_by(r, by_count.stretches));
        CHECK(by_count.score == by_hand.mass + by_hand.count * (r.meat.total().count + 1));

        // mass × weight + count, where the weight exceeds every count: a division takes the score apart.
        const auto objective = kept_mass_objective::mass_then_portions(problem);
        const std::size_t portion = problem.loose_count();
        const std::int64_t kept_in_all = problem.front(portion)[problem.cells()];
        if (kept_in_all == 0) continue;
        const std::int64_t weight = -objective.opening(portion, problem.cells()) / kept_in_all;
        const auto by_mass = best_path(problem, objective);
        const mass_and_count after = in_portions(cut_by(r, by_mass.stretches));
        CHECK(after.count < weight);
        CHECK(by_mass.score == weight * after.mass + after.count);
    }
}

TEST_CASE("best value equals the best of all tilings") {
    for (std::uint64_t seed = 0; seed < rounds(900); ++seed) {
        dice d(seed + 10'000);
        const request r = few_tilings(d, 1.0);
        const price_list<usd> prices = random_prices(d, r.specs);
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed, problem.cells());

        // Billionths of a dollar per microgram are dollars per kilogram.
        const auto worth = [&](std::size_t o, std::size_t from, std::size_t to) {
            const slab_masses& m = all.masses(o, from, to);
            double value = 0.0;
            for (const tissue t : all_tissues)
                value += static_cast<double>(m.trimmed[t]) * prices.of(r.rules.trim_goes_to[t]).value();
            if (!all.is_portion(o))
                return value + static_cast<double>(m.weight()) * prices.of(r.rules.loose[o].goes_to).value();
            const auto& price = prices.portions.at(all.spec(o).name);
            return value + static_cast<double>(m.weight()) * price.by_weight.value() +
                   price.each.value() * all.spec(o).pieces * 1e9;
        };
        const double expected = all.best<double>(worth);
        // Three roundings to a whole billionth a slab (its two table entries and the worth of its pieces), each of half
        // of one, and at most one slab a cell. The binary noise of sums below 1e12 is a thousand times less.
        const double tolerance = 1.5 * static_cast<double>(problem.cells()) + 0.01;
        const auto best = best_path(problem, value_objective<usd>(problem, prices));
        CHECK_THAT(static_cast<double>(best.score), WithinAbs(expected, tolerance));

        const tranche::planned planned = best_value(r.meat, r.specs, prices, r.rules);
        double stated = 0.0;
        for (const slab& s : planned.plan.slabs) {
            if (s.kind == slab_kind::facing) continue;
            const bool portions = s.kind == slab_kind::portions;
            const auto each_tissue = [&](tissue t) { return static_cast<double>(s.trim[t].count); };
            for (const tissue t : all_tissues) stated += each_tissue(t) * prices.of(r.rules.trim_goes_to[t]).value();
            const portion_price<usd> price = portions
                                                 ? prices.of(planned.plan.spec_of(s).name)
                                                 : portion_price<usd>{prices.of(planned.plan.destination_of(s)), {}};
            stated += static_cast<double>(s.weight().count) * price.by_weight.value();
            if (portions) stated += price.each.value() * planned.plan.spec_of(s).pieces * 1e9;
        }
        CHECK_THAT(stated, WithinAbs(expected, 2.0 * tolerance)); // the plan's own rounding, and that of the choice
        check_sound(r, planned.plan);
    }
}

TEST_CASE("a user's objective over whole slabs reaches the best of all tilings exactly") {
    for (std::uint64_t seed = 0; seed < rounds(900); ++seed) {
        dice d(seed + 20'000);
        const request r = few_tilings(d, 1.0);
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed, problem.cells());

        const near_a_target whole{&problem, r.meat.total().count / 8};
        const auto by_whole = best_path(problem, whole);
        CHECK(by_whole.score == all.best<std::int64_t>([&](std::size_t o, std::size_t from, std::size_t to) {
            const auto cells = static_cast<std::int64_t>(to - from);
            const std::int64_t off = all.masses(o, from, to).weight() - r.meat.total().count / 8;
            return all.is_portion(o) ? 400 - std::abs(off) / 1'000'000 + 3 * cells * cells : -7 * cells;
        }));
        check_sound(r, cut_by(r, by_whole.stretches));

        // Both add up from the rib to the sirloin, and rounding is monotone, so even the last bit agrees.
        const root_of_weight root{&problem};
        const auto by_root = best_path(problem, root);
        CHECK(by_root.score == all.best<double>([&](std::size_t o, std::size_t from, std::size_t to) {
            return root.slab(o, from, to); // masses agree, as tested above
        }));
        check_sound(r, plan(problem, root).plan);
    }
}

TEST_CASE("both engines find the same score and the same cuts") {
    const auto check = [](const cutting_problem& problem, const auto& objective) {
        using O = std::decay_t<decltype(objective)>;
        const auto fast = best_path(problem, objective);
        const auto thorough = best_path(problem, as_whole_slabs<O>{objective});
        CHECK(fast.score == thorough.score);
        CHECK(fast.stretches == thorough.stretches);
    };
    for (std::uint64_t seed = 0; seed < rounds(90); ++seed) {
        dice d(seed + 30'000);
        request r = request_of_size(d, 60, 400);
        if (seed % 3 == 1) add_limits(d, r);
        if (seed % 3 == 2) {
            add_limits(d, r);
            add_links(d, r);
        }
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed, problem.cells());
        check(problem, kept_mass_objective::portions_then_mass(problem));
        check(problem, kept_mass_objective::mass_then_portions(problem));
        check(problem, value_objective<usd>(problem, random_prices(d, r.specs)));
    }
}

} // namespace best_path_oracle
