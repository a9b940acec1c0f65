// Tiny orders of two loins and two lines against every way to cut both, enumerated without a search.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <utility>
#include <vector>

#include "orders/batches.hpp"

namespace order_enumeration_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

using counts = std::pair<std::int64_t, std::int64_t>;

/// What a loin may be cut into, on paper: by portions of both lines the most that it is worth, less the loin.
struct ways {
    std::map<counts, double> most{};
    std::size_t plans = 0; ///< that break no limit
};

ways all_ways(const order<usd>& wanted, std::size_t loin) {
    const order_loin<usd>& of = wanted.loins[loin];
    const auto meat = of.meat();
    const std::pair<cut_list, cutting_rules> request = request_of(wanted, loin);
    const cutting_problem grid(*meat, request.first, request.second); // which slabs there are, alone; no search
    const price_list<usd> prices = prices_of(wanted);
    ways result;
    if (of.opening != loin_opening::always) result.most[{0, 0}] = 0.0;
    std::vector<grid_slab> slabs;
    const auto on_paper = [&](const std::vector<grid_slab>& stretches) -> cutting_plan {
        try {
            return lay_out(*meat, request.first, request.second, stretches);
        } catch (const invalid_input&) {
            return {}; // a stretch that is no thicker than its kerf
        }
    };
    const auto look = [&](const auto& again, std::size_t from) -> void {
        if (from == meat->cells()) {
            const cutting_plan plan = on_paper(slabs);
            if (plan.slabs.empty() || !verify(plan, *meat, request.first, request.second).empty()) return;
            ++result.plans;
            double worth = worth_of<usd>(plan, prices).value();
            if (of.opening != loin_opening::first) worth -= of.worth.value();
            counts made{};
            for (const slab& s : plan.slabs) {
                if (s.kind != slab_kind::portions) continue;
                (s.option == 0 ? made.first : made.second) += plan.spec_of(s).pieces;
                worth -= wanted.labour.of(plan.spec_of(s)).value();
            }
            const auto there = result.most.try_emplace(made, worth).first;
            there->second = std::max(there->second, worth);
            return;
        }
        for (std::size_t to = from + 1; to <= meat->cells(); ++to)
            for (std::size_t option = 0; option < 3; ++option) { // loose meat, or one of the lines
                if (option == 0 && !slabs.empty() && slabs.back().kind == slab_kind::loose) continue; // would be one
                if (!grid.allows(option == 0 ? 0 : grid.loose_count() + option - 1, from, to)) continue;
                slabs.push_back({from, to, option == 0 ? slab_kind::loose : slab_kind::portions,
                                 option == 0 ? std::size_t{0} : option - 1});
                again(again, to);
                slabs.pop_back();
            }
    };
    look(look, 0);
    return result;
}

/// What so many portions of a line are worth, as the formula of `order_line` has it.
double worth_of_line(const order_line<usd>& line, std::int64_t made) {
    const std::int64_t above = std::max<std::int64_t>(0, made - line.at_most), carried = std::min(above, line.carried);
    return static_cast<double>(std::min(made, line.at_most)) * line.price.each.value() -
           static_cast<double>(std::max<std::int64_t>(0, line.at_least - made)) * line.unfilled.value() +
           static_cast<double>(carried) * line.carry_over.value() +
           static_cast<double>(above - carried) * line.surplus.value();
}

} // namespace

TEST_CASE("tiny orders have the optimum that enumerating every way to cut both loins finds") {
    std::size_t plans = 0, opened = 0;
    for (std::uint64_t seed = 0; seed < rounds(10, 100); ++seed) {
        dice d(seed + 2'900'000);
        order<usd> wanted = random_order(d, 2, 4, 6);
        while (wanted.lines.size() > 2) {
            for (order_loin<usd>& loin : wanted.loins) std::erase(loin.without, wanted.lines.back().cut.name);
            wanted.lines.pop_back();
        }
        wanted.rules = {}; // no facing: the grid starts at the rib face; loose meat of one kind
        wanted.remnant.reset();
        for (order_loin<usd>& loin : wanted.loins) loin.count = 1, loin.rules.reset();
        const ways one = all_ways(wanted, 0), other = all_ways(wanted, 1);
        double best = -std::numeric_limits<double>::infinity();
        for (const auto& [made, worth] : one.most)
            for (const auto& [also, more] : other.most)
                best = std::max(best, worth + more + worth_of_line(wanted.lines[0], made.first + also.first) +
                                          worth_of_line(wanted.lines[1], made.second + also.second));
        const order_plan<usd> plan = plan_order(wanted);
        CAPTURE(seed);
        REQUIRE(std::isfinite(best));
        CHECK(plan.proven());
        CHECK(plan.value().value() == Approx(best).margin(1e-6));
        plans += one.plans + other.plans;
        opened += plan.opened.size();
    }
    CHECK(plans > 50);
    CHECK(opened > 2);
}

} // namespace order_enumeration_oracle
