// The loin as it was cut: a loin cut just as planned is the plan; otherwise each slab weighs what the scale said, and all adds up.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include <tranche/cost/yield/settle.hpp>
#include <tranche/optimise/session/plan_as_cut.hpp>
#include <tranche/units/literals.hpp>

#include "loin/samples.hpp"
#include "optimise/instances.hpp"

namespace plan_as_cut_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const auto most = [](const cutting_problem& problem) { return kept_mass_objective::portions_then_mass(problem); };

micrograms weight_of(const slab& s) { return s.kept.sum() + s.trim.sum(); }

/// Slabs of a session, each weighed as it may come out, heavy ones too.
template <class Session>
void cut_up(Session& s, dice& d, std::size_t most_slabs) {
    try {
        for (std::size_t i = 0; s.next() && i < most_slabs; ++i)
            s.record({.weight = d.between(0.7, 1.5) * s.next()->weight});
    } catch (const invalid_input&) { // the last of heavy slabs would be more than there is left
    }
}

} // namespace

TEST_CASE("a loin that is cut just as planned is the plan, to a rounding of each tissue") {
    std::size_t slabs = 0;
    for (std::uint64_t seed = 1; seed <= rounds(60); ++seed) {
        CAPTURE(seed);
        dice d(seed + 21'000);
        request r = random_request(d, 10, 60);
        for (cut_spec& spec : r.specs) spec.kerf = length{};
        const cutting_plan planned = plan(r.meat, {r.specs, r.rules, {}}, most).plan;
        cutting_session s(r.meat, {r.specs, r.rules, {}}, most,
                          {.ratio = 1e-9, .bias = 1e-9 * metre, .knife = 1e-9 * metre});
        for (const slab& cut : planned.slabs) {
            if (!s.next()) break;
            s.record({.weight = to_mass(cut.weight() + cut.trim.sum()), .thickness = cut.thickness});
        }
        const cutting_plan came = plan_as_cut(s);
        if (planned.rules.trim_whole != trim_spec{}) continue;
        REQUIRE(came.slabs.size() == planned.slabs.size());
        for (std::size_t i = 0; i < came.slabs.size(); ++i) {
            if (planned.slabs[i].kind == slab_kind::portions &&
                s.slabs()[i].to_do != remedy::none) // at the limit, where a last digit decides
                continue;
            if (came.slabs[i].option != planned.slabs[i].option) continue; // ways to use loose meat that are as good
            CHECK(came.slabs[i].kind == planned.slabs[i].kind);
            for (const tissue t : all_tissues) {
                CHECK(std::abs((came.slabs[i].kept[t] - planned.slabs[i].kept[t]).count) <= 3);
                CHECK(std::abs((came.slabs[i].trim[t] - planned.slabs[i].trim[t]).count) <= 3);
            }
            ++slabs;
        }
    }
    CHECK(slabs > 100);
}

TEST_CASE("each slab weighs what the scale said, whatever becomes of it, and the bill takes the plan") {
    std::size_t kinds[5] = {};
    for (std::uint64_t seed = 1; seed <= rounds(120); ++seed) {
        CAPTURE(seed);
        dice d(seed + 22'000);
        request r = random_request(d, 10, 60);
        r.rules.trim_whole = {};
        cut_spec small = r.specs.front(); // for halves
        small.name = "small", small.portion = {0.4 * small.portion.min, 0.6 * small.portion.max}, small.pieces = 1;
        if (small.portion.max < unlimited<mass>()) r.specs.push_back(small);
        cutting_session s(r.meat, {r.specs, r.rules, {}}, most);
        const std::size_t most_slabs = d.once_in(3) ? 3 : 60;
        cut_up(s, d, most_slabs);
        if (s.slabs().empty()) continue;
        std::vector<slab_use> uses;
        for (const actual_slab& cut : s.slabs()) {
            const auto could = s.uses_of(cut);
            CHECK(could.empty() == (cut.kind != slab_kind::portions));
            const auto seen_less = [&](const slab_use& a, const slab_use& b) {
                return kinds[static_cast<std::size_t>(a.becomes)] < kinds[static_cast<std::size_t>(b.becomes)];
            };
            uses.push_back(could.empty() ? slab_use{} : *std::min_element(could.begin(), could.end(), seen_less));
            if (!could.empty()) ++kinds[static_cast<std::size_t>(uses.back().becomes)];
        }
        const cutting_plan came = plan_as_cut(s, {}, uses);
        REQUIRE(came.slabs.size() >= s.slabs().size());
        micrograms all;
        for (std::size_t i = 0; i < s.slabs().size(); ++i) {
            CHECK(weight_of(came.slabs[i]) == s.slabs()[i].weight);
            all += s.slabs()[i].weight;
            const slab_use& use = uses[i];
            const auto portions = came.portions_of(came.slabs[i]);
            if (s.slabs()[i].kind != slab_kind::portions) continue;
            if (use.becomes == slab_use::way::loose) {
                CHECK(portions.empty());
                continue;
            }
            for (const micrograms portion : portions)
                CHECK(to_mass(portion) / gram == Approx(use.portion / gram).margin(1e-5));
        }
        CHECK(balance_of(came).total() == came.total);
        const bool over = s.account().rest < micrograms{};
        if (!over) CHECK(came.total == s.whole());
        if (over) CHECK(came.total == all);
        const auto paid = settle<usd>(came, {.weight = to_mass(came.total), .price = 20.0_usd / 1_kg});
        CHECK(paid.test.whole == came.total);
    }
    CAPTURE(kinds[0], kinds[1], kinds[2], kinds[3], kinds[4]);
    for (const std::size_t seen : kinds) CHECK(seen > 0);
}

TEST_CASE("a rest that was weighed is loose meat, and what is missing was lost to the knife") {
    dice d(4);
    request r = random_request(d, 10, 60);
    r.rules.trim_whole = {};
    cutting_session s(r.meat, {r.specs, r.rules, {}}, most);
    s.record({.weight = s.next()->weight});
    REQUIRE(s.next());
    const mass left = to_mass(s.rest());
    const cutting_plan came = plan_as_cut(s, left - 0.001 * left);
    CHECK(came.total == s.whole());
    CHECK(came.slabs.back().kind == slab_kind::end);
    CHECK(weight_of(came.slabs.back()) == to_micrograms(left - 0.001 * left));
    CHECK(came.slabs.back().cutting_loss == s.account(left - 0.001 * left).unaccounted);
    CHECK_THROWS_AS(plan_as_cut(s, -1.0 * gram), invalid_input);
    const std::vector<slab_use> too_many(2);
    CHECK_THROWS_AS(plan_as_cut(s, {}, too_many), invalid_input);
}

} // namespace plan_as_cut_laws
