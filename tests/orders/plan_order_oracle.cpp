// Random orders over a few unlike loins, against a flow through all loins at once that CBC and GLPK solve.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <utility>
#include <vector>

#include <coin/Cbc_C_Interface.h>
#include <glpk.h>

#include "orders/batches.hpp"

namespace plan_order_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

/// A mixed-integer programme, column by column.
struct programme {
    std::vector<CoinBigIndex> starts{0};
    std::vector<int> rows;
    std::vector<double> entries, least, most, values, row_least, row_most;
    std::vector<bool> whole;

    int row(double low, double high) {
        row_least.push_back(low);
        row_most.push_back(high);
        return static_cast<int>(row_least.size()) - 1;
    }
    void column(const std::vector<std::pair<int, double>>& in, double low, double high, double value, bool integer) {
        for (const auto& [r, entry] : in) rows.push_back(r), entries.push_back(entry);
        starts.push_back(static_cast<CoinBigIndex>(rows.size()));
        least.push_back(low);
        most.push_back(high);
        values.push_back(value);
        whole.push_back(integer);
    }
    [[nodiscard]] double best_by_cbc() const {
        const std::unique_ptr<Cbc_Model, decltype(&Cbc_deleteModel)> owned(Cbc_newModel(), &Cbc_deleteModel);
        Cbc_Model* const model = owned.get();
        Cbc_setParameter(model, "log", "0");
        Cbc_setParameter(model, "ratioGap", "0");
        Cbc_setParameter(model, "allowableGap", "1e-9");
        Cbc_loadProblem(model, static_cast<int>(values.size()), static_cast<int>(row_least.size()), starts.data(),
                        rows.data(), entries.data(), least.data(), most.data(), values.data(), row_least.data(),
                        row_most.data());
        Cbc_setObjSense(model, -1.0);
        for (std::size_t c = 0; c < values.size(); ++c)
            if (whole[c]) Cbc_setInteger(model, static_cast<int>(c));
        Cbc_solve(model);
        return Cbc_isProvenOptimal(model) == 0 ? std::nan("") : Cbc_getObjValue(model);
    }
    [[nodiscard]] double best_by_glpk() const {
        const std::unique_ptr<glp_prob, decltype(&glp_delete_prob)> owned(glp_create_prob(), &glp_delete_prob);
        glp_prob* const model = owned.get();
        glp_set_obj_dir(model, GLP_MAX);
        glp_add_rows(model, static_cast<int>(row_least.size()));
        for (std::size_t r = 0; r < row_least.size(); ++r)
            glp_set_row_bnds(model, static_cast<int>(r) + 1, row_least[r] == row_most[r] ? GLP_FX : GLP_DB,
                             row_least[r], row_most[r]);
        glp_add_cols(model, static_cast<int>(values.size()));
        for (std::size_t c = 0; c < values.size(); ++c) {
            const int column = static_cast<int>(c) + 1;
            glp_set_col_bnds(model, column, least[c] == most[c] ? GLP_FX : GLP_DB, least[c], most[c]);
            glp_set_obj_coef(model, column, values[c]);
            if (whole[c]) glp_set_col_kind(model, column, GLP_IV);
            std::vector<int> in{0}; // GLPK counts from 1
            std::vector<double> with{0.0};
            for (auto k = static_cast<std::size_t>(starts[c]); k < static_cast<std::size_t>(starts[c + 1]); ++k) {
                in.push_back(rows[k] + 1);
                with.push_back(entries[k]);
            }
            glp_set_mat_col(model, column, static_cast<int>(in.size()) - 1, in.data(), with.data());
        }
        glp_iocp how;
        glp_init_iocp(&how);
        how.msg_lev = GLP_MSG_OFF;
        how.presolve = GLP_ON;
        return glp_intopt(model, &how) != 0 || glp_mip_status(model) != GLP_OPT ? std::nan("") : glp_mip_obj_val(model);
    }
};

/// One unit flows through each loin that is opened; lines count the portions of all. What the programme leaves out of each value is
/// `constant`.
programme flow_of(const order<usd>& wanted, double& constant) {
    programme mip;
    std::vector<int> lines;
    for (const order_line<usd>& line :
         wanted.lines) { // made - short stretches = 0, in the order of what they are worth
        const int row = mip.row(0.0, 0.0);
        lines.push_back(row);
        const double price = line.price.each.value(), endless = 1e5;
        const auto least = static_cast<double>(line.at_least);
        const bool any = line.at_most == demand::any_number;
        mip.column({{row, -1.0}}, 0.0, least, price + line.unfilled.value(), false);
        mip.column({{row, -1.0}}, 0.0, any ? endless : static_cast<double>(line.at_most) - least, price, false);
        if (any) continue;
        mip.column({{row, -1.0}}, 0.0, static_cast<double>(line.carried), line.carry_over.value(), false);
        mip.column({{row, -1.0}}, 0.0, endless, line.surplus.value(), false);
    }
    constant = 0.0;
    for (const order_line<usd>& line : wanted.lines)
        constant -= static_cast<double>(line.at_least) * line.unfilled.value();
    price_list<usd> prices = prices_of(wanted);
    for (std::size_t i = 0; i < wanted.loins.size(); ++i)
        for (std::int64_t copy = 0; copy < wanted.loins[i].count; ++copy) {
            const order_loin<usd>& loin = wanted.loins[i];
            const auto meat = loin.meat();
            const std::pair<cut_list, cutting_rules> request = request_of(wanted, i);
            const cut_list& specs = request.first;
            const cutting_rules& rules = request.second;
            const cutting_problem problem(*meat, specs, rules);
            // The worth of each slab by what is laid out on paper, one slab alone between loose meat that is taken off again.
            const auto whole = lay_out(*meat, specs, rules, {{problem.start(), problem.cells(), slab_kind::loose, 0}});
            double cost = loin.opening == loin_opening::first ? 0.0 : loin.worth.value();
            const auto on_paper = [&](const slab& s) {
                cutting_plan alone{
                    .slabs = {s}, .specs = specs, .rules = rules, .extent = meat->extent(), .total = meat->total()};
                return worth_of<usd>(alone, prices).value();
            };
            if (whole.slabs.front().kind == slab_kind::facing) cost -= on_paper(whole.slabs.front());
            std::vector<int> nodes;
            for (std::size_t p = problem.start(); p <= problem.cells(); ++p) nodes.push_back(mip.row(0.0, 0.0));
            const double open = loin.opening == loin_opening::always ? 1.0 : 0.0;
            mip.column({{nodes.front(), -1.0}, {nodes.back(), 1.0}}, open, 1.0, -cost, true);
            for (std::size_t o = 0; o < problem.option_count(); ++o)
                for (std::size_t from = problem.start(); from < problem.cells(); ++from)
                    for (std::size_t to = from + 1; to <= problem.cells(); ++to) {
                        if (!problem.allows(o, from, to)) continue;
                        const bool portions = problem.is_portion(o);
                        const std::size_t line = portions ? o - problem.loose_count() : 0;
                        if (portions && line == lines.size() && to < problem.cells()) continue; // a remnant
                        std::vector<grid_slab> slabs;
                        if (from > problem.start()) slabs.push_back({problem.start(), from, slab_kind::loose, 0});
                        slabs.push_back(
                            {from, to, portions ? slab_kind::portions : slab_kind::loose, portions ? line : o});
                        if (to < problem.cells()) slabs.push_back({to, problem.cells(), slab_kind::loose, 0});
                        const cutting_plan paper = lay_out(*meat, specs, rules, slabs);
                        const std::size_t at = (paper.slabs.front().kind == slab_kind::facing ? 1U : 0U) +
                                               (from > problem.start() ? 1U : 0U);
                        double worth = on_paper(paper.slabs[at]);
                        std::vector<std::pair<int, double>> in{{nodes[from - problem.start()], 1.0},
                                                               {nodes[to - problem.start()], -1.0}};
                        if (portions && line < lines.size()) {
                            in.emplace_back(lines[line], problem.pieces(o));
                            worth -= wanted.labour.of(specs[line]).value();
                        }
                        mip.column(in, 0.0, 1.0, worth, true);
                    }
        }
    return mip;
}

} // namespace

TEST_CASE("orders over a few unlike loins have the optimum that CBC and GLPK find") {
    std::size_t proven = 0, all = 0, opened = 0;
    for (std::uint64_t seed = 0; seed < rounds(10, 300); ++seed) {
        dice d(seed + 2'100'000);
        const std::size_t loins = d.whole(1, 5);
        const order<usd> wanted = random_order(d, loins, 5, 12);
        const order_plan<usd> plan = plan_order(wanted);
        double constant = 0.0;
        const programme flow = flow_of(wanted, constant);
        const double expected = flow.best_by_cbc() + constant, by_glpk = flow.best_by_glpk() + constant;
        CAPTURE(seed, loins);
        const double slack = 1e-6 * (1.0 + std::abs(expected));
        REQUIRE(std::isfinite(expected));
        CHECK(by_glpk == Approx(expected).margin(slack));
        CHECK(plan.value().value() <= expected + slack);
        CHECK(plan.bound().value() >= expected - slack);
        if (plan.proven()) CHECK(plan.value().value() == Approx(expected).margin(slack));
        CHECK(value_on_paper(wanted, plan) == Approx(plan.value().value()).margin(slack));
        proven += plan.proven() ? 1U : 0U;
        opened += plan.opened.size();
        ++all;
    }
    CHECK(proven == all);
    CHECK(opened > all / 2);
}

TEST_CASE("orders over a dozen unlike loins, which branches search, have the optimum that CBC finds") {
    std::size_t proven = 0, all = 0;
    for (std::uint64_t seed = 0; seed < rounds(6, 100); ++seed) {
        dice d(seed + 2'200'000);
        const std::size_t loins = d.whole(9, 14); // more than are proven at once
        const order<usd> wanted = random_order(d, loins, 5, 10);
        const order_plan<usd> plan = plan_order(wanted);
        double constant = 0.0;
        const double expected = flow_of(wanted, constant).best_by_cbc() + constant;
        CAPTURE(seed, loins);
        const double slack = 1e-6 * (1.0 + std::abs(expected));
        CHECK(plan.value().value() <= expected + slack);
        CHECK(plan.bound().value() >= expected - slack);
        CHECK(value_on_paper(wanted, plan) == Approx(plan.value().value()).margin(slack));
        proven += plan.proven() ? 1U : 0U;
        ++all;
    }
    CAPTURE(proven, all);
    CHECK(2 * proven >= all);
}

} // namespace plan_order_oracle
