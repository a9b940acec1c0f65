// Choices compared on the same replicates.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/run/study_comparison.hpp>

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include <tranche/study/run/run_study.hpp>

#include "study/run/small_study.hpp"
#include "support/catch.hpp"

namespace study_comparison_test {

using namespace tranche;
using namespace tranche_test;
using small_study::prism_slices;

study_comparison<prism_slices> thicknesses() {
    return study_comparison<prism_slices>(
        {{"30 mm", {.thickness = 0.030, .throws = false}}, {"28 mm", {.thickness = 0.028, .throws = false}}});
}

TEST_CASE("each choice comes to what it comes to alone") {
    const study_result both = run_study(thicknesses(), {.replicates = 2000}, threads(2));
    for (const auto& [name, thickness] : {std::pair{"30 mm", 0.030}, std::pair{"28 mm", 0.028}}) {
        const study_result alone =
            run_study(prism_slices{.thickness = thickness, .throws = false}, {.replicates = 2000});
        for (const char* output : {"slices", "weight"}) {
            const exact_summary& of_both = both[choice_output(name, output)];
            CHECK(of_both.mean() == alone[output].mean());
            CHECK(of_both.variance() == alone[output].variance());
            CHECK(of_both.count() == alone[output].count());
        }
    }
    CHECK(both.outline().reasons ==
          std::vector<std::string>{"30 mm: shorter than ten slices", "28 mm: shorter than ten slices"});
    CHECK(both.impossible()[0] > both.impossible()[1]);
    CHECK(both.impossible()[1] > 0);
}

TEST_CASE("a paired difference is the mean of differences, and far surer than the difference of two studies") {
    const study_result both = run_study(thicknesses(), {.replicates = 2000});
    const exact_summary& difference = both[choice_difference("28 mm", "30 mm", "slices")];
    // Where 30 mm is possible 28 mm is too.
    CHECK(difference.count() == both["30 mm: slices"].count());
    CHECK(difference.least() >= 0.0);
    CHECK(difference.most() <= 3.0);
    const auto paired = *estimate_mean(difference);
    const double apart =
        std::sqrt(*both["28 mm: slices"].variance() + *both["30 mm: slices"].variance()) / std::sqrt(2000.0);
    CHECK(paired.standard_error < 0.5 * apart);
    CHECK(paired.interval.low > 0.0);
}

TEST_CASE("differences of numbers that are known are those numbers") {
    const auto shifted = [](std::int64_t by) {
        return study_of(study_outline{{{"x"}, {"y"}}, {}},
                        std::function([by](const study_replicate& replicate, std::span<std::int64_t> outputs) {
                            outputs[0] = static_cast<std::int64_t>(replicate.number()) + by;
                            if (replicate.number() >= 10) outputs[1] = 7 * by;
                        }));
    };
    using choice = study_choice<decltype(shifted(0))>;
    const study_comparison compared(std::vector<choice>{{"a", shifted(0)}, {"b", shifted(5)}, {"c", shifted(-2)}});
    const study_result r = run_study(compared, {.replicates = 100});
    CHECK(r["b - a: x"].least() == 5.0);
    CHECK(r["b - a: x"].most() == 5.0);
    CHECK(r["c - a: x"].mean() == -2.0);
    CHECK(r["c - a: y"].mean() == -14.0);
    CHECK(r["c - a: y"].missing() == 10);
    CHECK(r.outline().outputs.size() == 10);
}

TEST_CASE("a choice that throws is named, and the replicate is left out of all") {
    const study_comparison compared(
        std::vector<study_choice<prism_slices>>{{"sound", {.throws = false}}, {"broken", {.throws = true}}});
    const study_result r = run_study(compared, {.replicates = 200});
    REQUIRE(r.failures().size() == 1);
    CHECK(r.failures()[0] == study_failure{77, "broken: the knife slipped off the board in 77"});
    CHECK(r["sound: slices"].count() + r["sound: slices"].missing() == 199);
    CHECK(*r["broken - sound: slices"].variance() == 0.0);
}

TEST_CASE("comparisons that are none are refused by name") {
    using choices = std::vector<study_choice<prism_slices>>;
    CHECK_THROWS_WITH(study_comparison(choices{{"a", {}}}),
                      "choices: got 1, expected two or more, which can be compared");
    CHECK_THROWS_WITH(study_comparison(choices{{"a", {}}, {"a", {}}}),
                      "choices[1].name: got a, expected a name that no other choice has");
    CHECK_THROWS_WITH(study_comparison(choices{{"a", {}}, {"", {}}}), "choices[1].name: got nothing, expected a name");
    const auto called = [](std::string output) {
        return study_of(study_outline{{{std::move(output)}}, {}},
                        [](const study_replicate&, std::span<std::int64_t>) {});
    };
    using other = study_choice<decltype(called(""))>;
    CHECK_THROWS_WITH(study_comparison(std::vector<other>{{"a", called("x")}, {"b", called("y")}}),
                      "choices[1].model: got other outputs, expected those of a");
}

} // namespace study_comparison_test
