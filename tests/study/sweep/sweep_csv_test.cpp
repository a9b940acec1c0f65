// The tidy table of a sweep, read back by the library's reader.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/sweep/sweep_csv.hpp>

#include <string>
#include <vector>

#include "report/csv_reading.hpp"
#include "support/catch.hpp"

namespace sweep_csv_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("sweep CSV: a record for each point and output, whose numbers read back exactly") {
    const sweep_design design = grid_design({{{"thickness", "in"}, {0.1, 1.0 / 3.0}}, {{"=price", ""}, {8.0}}});
    const sweep_result result =
        run_sweep(design, {{"portions", ""}, {"cost, each", "USD"}},
                  [](std::span<const double> x, const study_replicate& r, std::span<double> out) {
                      out[0] = 2.0 / x[0] + static_cast<double>(r.number());
                      out[1] = 1e-7 * x[1];
                      return x[0] < 0.2;
                  },
                  {.replicates = 2});
    const std::string text = sweep_csv(result);
    const auto records = read_csv(text);
    REQUIRE(records.size() == 5);
    CHECK(records[0] == std::vector<std::string>{"point", "thickness (in)", "'=price", "output", "unit", "mean", "low",
                                                 "high", "standard_deviation", "replicates", "impossible"});
    CHECK(records[1][0] == "1");
    CHECK(std::stod(records[3][1]) == 1.0 / 3.0);
    CHECK(std::stod(records[1][5]) == *result.at(0, 0).mean);
    CHECK(std::stod(records[1][6]) == result.at(0, 0).interval->low);
    CHECK(records[2][3] == "cost, each");
    CHECK(records[2][4] == "USD");
    CHECK(std::stod(records[2][5]) == 8e-7);
    CHECK(records[3][5].empty());
    CHECK(records[3][9] == "0");
    CHECK(records[3][10] == "2");
}

} // namespace sweep_csv_test
