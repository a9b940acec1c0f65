// The flow of arc_flow.hpp solved by CBC.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include <coin/Cbc_C_Interface.h>

#include "optimise/arc_flow.hpp"

namespace tranche_test {

/// The path of highest value by CBC's branch and cut; none if CBC proves none to be optimal. `value` in a unit that keeps
/// coefficients near 1000.
[[nodiscard]] inline std::optional<std::vector<arc>> best_path_by_cbc(const flow_program& flow,
                                                                      const value_of_arc& value) {
    std::vector<CoinBigIndex> starts;
    std::vector<int> rows;
    std::vector<double> entries, least(flow.arcs.size(), 0.0), most(flow.arcs.size(), 1.0), values;
    for (const arc& a : flow.arcs) {
        starts.push_back(static_cast<CoinBigIndex>(rows.size()));
        const auto enter = [&](int row, double entry) {
            rows.push_back(row);
            entries.push_back(entry);
        };
        enter(flow.node(a.from), 1.0);
        enter(flow.node(a.to), -1.0);
        if (const int counted = flow.counted_in(a); counted >= 0) enter(counted, 1.0);
        values.push_back(value(a));
    }
    starts.push_back(static_cast<CoinBigIndex>(rows.size()));
    std::vector<double> row_least, row_most;
    for (std::size_t p = flow.start; p <= flow.end; ++p) row_least.push_back(flow.supply(p));
    row_most = row_least;
    for (const slab_row& row : flow.rows) {
        row_least.push_back(row.least);
        row_most.push_back(row.most);
    }
    const std::unique_ptr<Cbc_Model, decltype(&Cbc_deleteModel)> program(Cbc_newModel(), &Cbc_deleteModel);
    Cbc_Model* const model = program.get();
    Cbc_setParameter(model, "log", "0");
    Cbc_setParameter(model, "ratioGap", "0");
    Cbc_setParameter(model, "allowableGap", "1e-9");
    Cbc_loadProblem(model, static_cast<int>(flow.arcs.size()), static_cast<int>(row_least.size()), starts.data(),
                    rows.data(), entries.data(), least.data(), most.data(), values.data(), row_least.data(),
                    row_most.data());
    Cbc_setObjSense(model, -1.0);
    for (std::size_t a = 0; a < flow.arcs.size(); ++a) Cbc_setInteger(model, static_cast<int>(a));
    Cbc_solve(model);
    if (Cbc_isProvenOptimal(model) == 0) return std::nullopt;
    const double* const solution = Cbc_getColSolution(model);
    return whole_path(flow, [&](std::size_t a) { return solution[a]; });
}

} // namespace tranche_test
