// The least-cost blend against GLPK, in exact arithmetic, and against every basis of small instances.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <random>
#include <vector>

#include <glpk.h>

#include <tranche/grind/trim_in_blend.hpp>

#include "grind/blend_instances.hpp"

namespace least_cost_blend_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

struct lp_answer {
    bool feasible = false;
    double cost = 0.0, batch = 0.0;                     // cents × grams / kilogram, grams
    double shadow_price_of_fat = 0.0, price_without_fat = 0.0; // cents a kilogram
    bool nondegenerate = false;
};

enum class wish { least_cost, most_mass };

/// Solved over the rationals (glp_exact): the data are whole numbers, so feasibility is not a matter of tolerance.
/// An open batch has rows Σ (fat - fattest) x <= 0 <= Σ (fat - leanest) x.
lp_answer solved_by_glpk(const small_blend& b, wish w) {
    const std::unique_ptr<glp_prob, void (*)(glp_prob*)> lp(glp_create_prob(), glp_delete_prob);
    const bool open = b.batch == 0;
    glp_set_obj_dir(lp.get(), w == wish::least_cost ? GLP_MIN : GLP_MAX);
    glp_add_rows(lp.get(), 3);
    const auto mass = static_cast<double>(b.batch);
    glp_set_row_bnds(lp.get(), 1, open ? GLP_FR : GLP_FX, mass, mass);
    glp_set_row_bnds(lp.get(), 2, GLP_UP, 0.0, open ? 0.0 : static_cast<double>(b.fattest) * mass);
    glp_set_row_bnds(lp.get(), 3, GLP_LO, open ? 0.0 : static_cast<double>(b.leanest) * mass, 0.0);
    const int n = static_cast<int>(b.sources.size());
    glp_add_cols(lp.get(), n);
    for (int i = 1; i <= n; ++i) {
        const small_source& s = b.sources[static_cast<std::size_t>(i - 1)];
        const int kind = s.least == s.most ? GLP_FX : GLP_DB;
        glp_set_col_bnds(lp.get(), i, kind, static_cast<double>(s.least), static_cast<double>(s.most));
        glp_set_obj_coef(lp.get(), i, w == wish::least_cost ? static_cast<double>(s.price) : 1.0);
        const std::vector<int> rows{0, 1, 2, 3};
        const std::vector<double> values{0.0, 1.0, static_cast<double>(s.fat - (open ? b.fattest : 0)),
                                         static_cast<double>(s.fat - (open ? b.leanest : 0))};
        glp_set_mat_col(lp.get(), i, 3, rows.data(), values.data());
    }
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.presolve = GLP_OFF;
    glp_term_out(GLP_OFF);
    REQUIRE(glp_simplex(lp.get(), &how) == 0); // a start for the exact method
    REQUIRE(glp_exact(lp.get(), &how) == 0);
    lp_answer answer;
    answer.feasible = glp_get_status(lp.get()) == GLP_OPT;
    if (!answer.feasible) return answer;
    int between = 0;
    for (int i = 1; i <= n; ++i) {
        const double x = glp_get_col_prim(lp.get(), i);
        const small_source& s = b.sources[static_cast<std::size_t>(i - 1)];
        answer.batch += x;
        answer.cost += x * static_cast<double>(s.price);
        between += x > static_cast<double>(s.least) && x < static_cast<double>(s.most) ? 1 : 0;
    }
    // Rows count fat in thousandths of a gram.
    answer.shadow_price_of_fat = -1000.0 * (glp_get_row_dual(lp.get(), 2) + glp_get_row_dual(lp.get(), 3));
    answer.price_without_fat = glp_get_row_dual(lp.get(), 1);
    answer.nondegenerate = between == (answer.shadow_price_of_fat == 0.0 ? 1 : 2);
    return answer;
}

/// The least cost over all bases: any two sources between their bounds, or one, or none, and all others at either bound.
std::optional<double> best_of_all_bases(const small_blend& b) {
    std::optional<double> best;
    const std::size_t n = b.sources.size();
    const auto consider = [&](const std::vector<double>& x) {
        double mass = 0.0, fat = 0.0, cost = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const small_source& s = b.sources[i];
            if (x[i] < static_cast<double>(s.least) - 1e-6 || x[i] > static_cast<double>(s.most) + 1e-6) return;
            mass += x[i];
            fat += x[i] * static_cast<double>(s.fat);
            cost += x[i] * static_cast<double>(s.price);
        }
        const auto batch = static_cast<double>(b.batch);
        if (std::abs(mass - batch) > 1e-6 || fat > static_cast<double>(b.fattest) * batch + 1e-3 ||
            fat < static_cast<double>(b.leanest) * batch - 1e-3)
            return;
        if (!best || cost < *best) best = cost;
    };
    for (std::size_t bounds = 0; bounds < (std::size_t{1} << n); ++bounds) {
        std::vector<double> at(n);
        for (std::size_t i = 0; i < n; ++i)
            at[i] = static_cast<double>((bounds >> i & 1U) != 0 ? b.sources[i].most : b.sources[i].least);
        consider(at);
        for (std::size_t i = 0; i < n; ++i) {
            double rest = static_cast<double>(b.batch);
            for (std::size_t k = 0; k < n; ++k) rest -= k == i ? 0.0 : at[k];
            std::vector<double> one = at;
            one[i] = rest;
            consider(one);
            for (std::size_t j = 0; j < i; ++j) {
                if (b.sources[i].fat == b.sources[j].fat) continue;
                for (const std::int64_t level : {b.leanest, b.fattest}) {
                    double fat = static_cast<double>(level) * static_cast<double>(b.batch);
                    double mass_of_two = static_cast<double>(b.batch);
                    for (std::size_t k = 0; k < n; ++k)
                        if (k != i && k != j) {
                            mass_of_two -= at[k];
                            fat -= at[k] * static_cast<double>(b.sources[k].fat);
                        }
                    std::vector<double> two = at;
                    two[i] = (fat - mass_of_two * static_cast<double>(b.sources[j].fat)) /
                             static_cast<double>(b.sources[i].fat - b.sources[j].fat);
                    two[j] = mass_of_two - two[i];
                    consider(two);
                }
            }
        }
    }
    return best;
}

double cents(money<usd> m) { return 100.0 * 1000.0 * m.value(); } // × grams a kilogram

/// A relative 1e-9, and a microgram (1e-6 g) moved between sources that are 15 dollars a kilogram apart.
double tolerance(double cost) { return 1e-9 * std::abs(cost) + 1e-6 * 1500.0; }

} // namespace

TEST_CASE("least_cost_blend: costs what GLPK says, and has no blend where GLPK has none") {
    std::mt19937 random(5);
    std::size_t made = 0, none = 0, priced = 0;
    for (std::uint32_t round = 0; round < blends(1500); ++round) {
        const small_blend instance = random_blend(random, 8, false);
        CAPTURE(round);
        const auto b = least_cost_blend<usd>(sources_of(instance), request_of(instance), no_legal_fat_limit());
        const lp_answer lp = solved_by_glpk(instance, wish::least_cost);
        REQUIRE(b.made() == lp.feasible);
        if (!b.made()) {
            ++none;
            continue;
        }
        ++made;
        CHECK_THAT(cents(b.unrounded_cost), WithinAbs(lp.cost, tolerance(lp.cost)));
        if (!lp.nondegenerate) continue;
        ++priced; // then the dual prices are unique
        CHECK_THAT(100.0 * b.shadow_price_of_fat.value(), WithinAbs(lp.shadow_price_of_fat, 1e-7));
        CHECK_THAT(100.0 * b.price_without_fat.value(), WithinAbs(lp.price_without_fat, 1e-7));
    }
    CHECK(made > 300);
    CHECK(none > 300);
    CHECK(priced > 200);
}

TEST_CASE("least_cost_blend: makes as much as GLPK does, at its cost") {
    std::mt19937 random(6);
    std::size_t made = 0, none = 0;
    for (std::uint32_t round = 0; round < blends(700); ++round) {
        small_blend instance = random_blend(random, 7, true);
        CAPTURE(round);
        const auto b = least_cost_blend<usd>(sources_of(instance), request_of(instance), no_legal_fat_limit());
        const lp_answer most = solved_by_glpk(instance, wish::most_mass);
        REQUIRE(b.made() == (most.feasible && most.batch > 0.0));
        if (!b.made()) {
            ++none;
            continue;
        }
        ++made;
        // Rounded down to a whole microgram, or a few where a lower end binds: 1e-6 g each.
        CHECK_THAT(to_mass(b.batch) / gram, WithinAbs(most.batch, 3e-6));
        CHECK(to_mass(b.batch) / gram <= most.batch + 1e-6);
    }
    CHECK(made > 200);
    CHECK(none > 100);
}

TEST_CASE("least_cost_blend: costs as little as the best of all bases") {
    std::mt19937 random(7);
    std::size_t made = 0;
    for (std::uint32_t round = 0; round < blends(300); ++round) {
        const small_blend instance = random_blend(random, 5, false);
        CAPTURE(round);
        const auto b = least_cost_blend<usd>(sources_of(instance), request_of(instance), no_legal_fat_limit());
        const std::optional<double> best = best_of_all_bases(instance);
        REQUIRE(b.made() == best.has_value());
        if (!best) continue;
        ++made;
        CHECK_THAT(cents(b.unrounded_cost), WithinAbs(*best, tolerance(*best)));
    }
    CHECK(made > 60);
}

TEST_CASE("cheapest_addition: buys for what GLPK would pay") {
    std::mt19937 random(8);
    std::size_t made = 0, none = 0;
    for (std::uint32_t round = 0; round < blends(700); ++round) {
        small_blend instance = random_blend(random, 6, true);
        for (small_source& s : instance.sources) s.price = std::max<std::int64_t>(s.price, 0);
        instance.sources[0].least = instance.sources[0].most;
        CAPTURE(round);
        auto offers = sources_of(instance);
        const grind_source<usd> own = offers.front();
        offers.erase(offers.begin());
        const auto b = cheapest_addition(own, offers, request_of(instance).fat, no_legal_fat_limit());
        const lp_answer lp = solved_by_glpk(instance, wish::least_cost);
        const bool some = std::any_of(instance.sources.begin(), instance.sources.end(),
                                      [](const small_source& s) { return s.least > 0; });
        REQUIRE(b.made() == (lp.feasible && some));
        if (!b.made()) {
            ++none;
            continue;
        }
        ++made;
        CHECK_THAT(cents(b.unrounded_cost), WithinAbs(lp.cost, tolerance(lp.cost)));
    }
    CHECK(made > 100);
    CHECK(none > 100);
}

} // namespace least_cost_blend_oracle
