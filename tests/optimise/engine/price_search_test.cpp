// How prices are looked for, on bounds that can be worked out by hand and on linear programs that another solver solves.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <memory>
#include <utility>
#include <vector>

#include <glpk.h>

#include <tranche/optimise/engine/detail/demands/price_search.hpp>

#include "optimise/instances.hpp"

namespace price_search_test {

using namespace tranche;
using namespace tranche_test;

namespace {

struct one_plan {
    double score;
    std::vector<double> n;
};

/// The least bound that so many looks find.
double least_bound(const std::vector<one_plan>& plans, const std::vector<detail::priced_row>& rows, int looks) {
    detail::price_search<> search(rows);
    double least = std::numeric_limits<double>::infinity();
    for (int look = 0; look < looks; ++look) {
        const std::vector<double>& m = search.prices();
        const auto value = [&](const one_plan& p) {
            double sum = p.score;
            for (std::size_t k = 0; k < rows.size(); ++k) sum += m[k] * p.n[k];
            return sum;
        };
        const one_plan& best = *std::max_element(
            plans.begin(), plans.end(), [&](const one_plan& a, const one_plan& b) { return value(a) < value(b); });
        double bound = value(best);
        for (std::size_t k = 0; k < rows.size(); ++k) bound -= rows[k].constant(m[k]);
        least = std::min(least, bound);
        search.found(bound, best.score, best.n, bound - 0.05 * std::abs(bound));
        if (!search.advance(1e-9)) break;
    }
    return least;
}

/// The highest mixture of plans that meets the rows, by GLPK's simplex method: the same number by the duality of linear programs.
double best_mixture(const std::vector<one_plan>& plans, const std::vector<detail::priced_row>& rows) {
    const std::unique_ptr<glp_prob, decltype(&glp_delete_prob)> program(glp_create_prob(), &glp_delete_prob);
    glp_prob* lp = program.get();
    glp_set_obj_dir(lp, GLP_MAX);
    glp_add_rows(lp, static_cast<int>(rows.size()) + 1);
    for (std::size_t k = 0; k < rows.size(); ++k)
        glp_set_row_bnds(lp, static_cast<int>(k) + 1,
                         !rows[k].capped                 ? GLP_LO
                         : rows[k].least == rows[k].most ? GLP_FX
                                                         : GLP_DB,
                         rows[k].least, rows[k].most);
    glp_set_row_bnds(lp, static_cast<int>(rows.size()) + 1, GLP_FX, 1.0, 1.0);
    glp_add_cols(lp, static_cast<int>(plans.size()));
    for (std::size_t i = 0; i < plans.size(); ++i) {
        std::vector<int> at{0};
        std::vector<double> entries{0.0};
        for (std::size_t k = 0; k <= rows.size(); ++k) {
            at.push_back(static_cast<int>(k) + 1);
            entries.push_back(k < rows.size() ? plans[i].n[k] : 1.0);
        }
        const int column = static_cast<int>(i) + 1;
        glp_set_mat_col(lp, column, static_cast<int>(rows.size()) + 1, at.data(), entries.data());
        glp_set_col_bnds(lp, column, GLP_LO, 0.0, 0.0);
        glp_set_obj_coef(lp, column, plans[i].score);
    }
    glp_smcp simplex;
    glp_init_smcp(&simplex);
    simplex.msg_lev = GLP_MSG_OFF;
    if (glp_simplex(lp, &simplex) != 0 || glp_get_status(lp) != GLP_OPT)
        return std::numeric_limits<double>::quiet_NaN();
    return glp_get_obj_val(lp);
}

} // namespace

TEST_CASE("with one row the best price makes two plans worth the same") {
    // Ten without, six with two: two are asked for, so each is worth 2; one and a half may be had for 3 by a mixture.
    const std::vector<one_plan> plans{{10.0, {0.0}}, {6.0, {2.0}}};
    CHECK_THAT(least_bound(plans, {{2.0, 0.0, false, 1e6}}, 50), WithinRel(6.0, 1e-6));
    CHECK_THAT(least_bound(plans, {{1.5, 0.0, false, 1e6}}, 50), WithinRel(7.0, 1e-6));
    CHECK_THAT(least_bound(plans, {{0.0, 2.0, true, 1e6}}, 50), WithinRel(10.0, 1e-6)); // nothing binds
    // A cap is a price below zero.
    const std::vector<one_plan> more{{10.0, {4.0}}, {6.0, {2.0}}};
    CHECK_THAT(least_bound(more, {{0.0, 3.0, true, 1e6}}, 50), WithinRel(8.0, 1e-6));
}

TEST_CASE("the bound that 150 looks find is the linear program's, nearly always to a thousandth") {
    std::size_t compared = 0, close = 0;
    for (std::uint64_t seed = 0; seed < rounds(150); ++seed) {
        dice d(seed + 330'000);
        std::vector<detail::priced_row> rows;
        const std::size_t count = d.whole(1, 8);
        for (std::size_t k = 0; k < count; ++k) {
            const auto low = static_cast<double>(d.whole(0, 4));
            rows.push_back({low, low + static_cast<double>(d.whole(0, 2)), !d.once_in(3), 1e9});
        }
        std::vector<one_plan> plans;
        for (std::size_t i = 0, all = d.whole(40, 400); i < all; ++i) {
            one_plan p{d.between(20.0, 60.0), {}};
            for (std::size_t k = 0; k < count; ++k) {
                const auto n = static_cast<double>(d.whole(0, 6));
                p.n.push_back(n);
                p.score -= 2.0 * std::abs(n - rows[k].least); // invented: what is asked for has its price
            }
            plans.push_back(p);
        }
        const double solved = best_mixture(plans, rows);
        if (std::isnan(solved)) continue; // no mixture meets the rows, and the bound falls for ever
        const double found = least_bound(plans, rows, 150);
        CAPTURE(seed, count, plans.size());
        CHECK(found >= solved - 1e-6 * std::abs(solved));
        // As computed: two of the instances, with six and eight rows, are not there yet, by 0.2 % and 1.3 %.
        CHECK(found <= solved + 2e-2 * std::max(std::abs(solved), 10.0));
        close += found <= solved + 1e-3 * std::max(std::abs(solved), 10.0);
        ++compared;
    }
    CHECK(compared > 100);
    CHECK(20 * close >= 19 * compared);
}

} // namespace price_search_test
