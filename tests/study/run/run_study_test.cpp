// Who runs a study does not matter, stops are where they are said to be, and nothing is lost.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/run/run_study.hpp>

#include <atomic>
#include <chrono>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <stdexcept>
#include <stop_token>
#include <vector>

#include <tranche/study/run/study_bytes.hpp>

#include "study/run/small_study.hpp"
#include "support/catch.hpp"

namespace run_study_test {

using namespace tranche;
using namespace tranche_test;
using small_study::prism_slices;

/// Whole numbers from 0 to 999, each as likely.
const study_of even_numbers(study_outline{{{"x", 0.001, 1}}, {}},
                            [](const study_replicate& replicate, std::span<std::int64_t> outputs) {
                                outputs[0] = static_cast<std::int64_t>(replicate.stream().next_uniform() * 1000.0);
                            });

TEST_CASE("one thread, several and shards come to the same study") {
    const study_options options{.title = "slices", .seed = 3, .replicates = 5003};
    const study_result alone = run_study(prism_slices{}, options);
    CHECK(alone.replicates() == 5003);
    CHECK(alone.covered() == std::vector<replicate_range>{{0, 5003}});
    CHECK(alone == run_study(prism_slices{}, options, threads(1)));
    CHECK(alone == run_study(prism_slices{}, options, threads(2)));
    CHECK(alone == run_study(prism_slices{}, options, threads(5)));
    CHECK(alone == run_study(prism_slices{}, options, threads()));

    std::vector<study_result> parts;
    for (std::uint64_t i = 0; i < 3; ++i) parts.push_back(run_study(prism_slices{}, options, shard(i, 3)));
    CHECK(run_study(prism_slices{}, options, shard(1, 3, threads(2))) == parts[1]);
    CHECK(parts[0].replicates() + parts[1].replicates() + parts[2].replicates() == 5003);
    study_result forwards = parts[0], backwards = parts[2], grouped = parts[1];
    forwards.merge(parts[1]);
    forwards.merge(parts[2]);
    backwards.merge(parts[1]);
    backwards.merge(parts[0]);
    study_result two = parts[2];
    two.merge(parts[0]);
    grouped.merge(two);
    CHECK(forwards == alone);
    CHECK(backwards == alone);
    CHECK(grouped == alone);
    CHECK(study_bytes(grouped) == study_bytes(alone));
    CHECK(run_study(prism_slices{}, options, shard(0, 1)) == alone);
    // More shards than batches: some have nothing to do.
    CHECK(run_study(prism_slices{}, {.replicates = 100}, shard(7, 9)).replicates() == 0);
}

TEST_CASE("a part knows its replicates in few ranges, and shards have equal shares") {
    std::vector<study_result> parts;
    for (std::uint64_t i = 0; i < 5; ++i) {
        parts.push_back(run_study(even_numbers, {.replicates = 100'000}, shard(i, 5)));
        CHECK(static_cast<double>(parts[i].replicates()) == Approx(20'000).epsilon(0.01));
        // 1024 stretches from each power of two of batches to the next, of which a fifth each: 6250 batches are 3.6 times that.
        CHECK(parts[i].covered().size() < 1000);
    }
    for (std::uint64_t i = 1; i < 5; ++i) parts[0].merge(parts[i]);
    CHECK(parts[0].covered() == std::vector<replicate_range>{{0, 100'000}});
}

TEST_CASE("a replicate is the same in a longer study, and another with another seed") {
    const study_result longer = run_study(prism_slices{}, {.replicates = 1000});
    study_result head = run_study(prism_slices{}, {.replicates = 300});
    CHECK(resume_study(head, prism_slices{}, {.replicates = 1000}) == longer);
    CHECK_FALSE(run_study(prism_slices{}, {.seed = 2, .replicates = 300}) == head);
}

TEST_CASE("a model that throws fails its replicate alone, and is named") {
    const study_result with = run_study(prism_slices{}, {.replicates = 5000}, threads(2));
    CHECK(with.failed() == 2);
    CHECK(with.failures() == std::vector<study_failure>{{77, "the knife slipped off the board in 77"},
                                                        {4100, "the knife slipped off the board in 4100"}});
    const study_result without = run_study(prism_slices{.throws = false}, {.replicates = 5000});
    CHECK(without["slices"].count() + without.impossible()[0] == 5000);
    CHECK(with["slices"].count() + with.impossible()[0] + 2 == 5000);
}

TEST_CASE("impossible draws are counted by reason, and outputs that a replicate lacks as missing") {
    const study_result r = run_study(prism_slices{.throws = false}, {.replicates = 2000});
    CHECK(r.impossible()[0] > 50);
    CHECK(r.impossible()[0] < 500);
    CHECK(r["slices"].missing() == 0);
    CHECK(r["weight"].missing() > 0);
    CHECK(r["weight"].count() + r["weight"].missing() == r["slices"].count());
}

TEST_CASE("only the first failures are kept, whoever finds them, and all are counted") {
    const study_of broken(study_outline{{{"x"}}, {}},
                          [](const study_replicate& replicate, std::span<std::int64_t> outputs) {
                              if (replicate.number() % 3 == 0) throw std::runtime_error(std::string(1000, 'x'));
                              if (replicate.number() % 3 == 1) throw 5; // no std::exception
                              outputs[0] = most_of_output + 1;          // no figure of a study
                          });
    const study_result r = run_study(broken, {.replicates = 3000});
    CHECK(r.failed() == 3000);
    CHECK(r["x"].count() == 0);
    REQUIRE(r.failures().size() == 64);
    CHECK(r.failures()[0].message == std::string(200, 'x'));
    CHECK(r.failures()[1].message == "something that is no std::exception");
    CHECK(r.failures()[2].message == "output x: got 140737488355329, expected -2^47 to 2^47 whole numbers");
    CHECK(r.failures()[63].replicate == 63);
    CHECK(r == run_study(broken, {.replicates = 3000}, threads(3)));
    const study_of no_reason(study_outline{{{"x"}}, {"a reason"}},
                             [](const study_replicate&, std::span<std::int64_t>) -> std::optional<impossible_draw> {
                                 return impossible_draw{1};
                             });
    CHECK(run_study(no_reason, {.replicates = 1}).failures()[0].message ==
          "reason: got 1, expected a place among 1 reasons");
}

TEST_CASE("a study stops at a precision, at the same replicate whoever runs it") {
    // Uniform on 0 to 0.999 in steps: s = 0.28868, so n = (1.96 × 0.28868 / 0.005)² = 12,805 replicates; stops are an eighth apart.
    const study_options options{.replicates = 1'000'000, .precision = study_precision{"x", 0.005}};
    const study_result alone = run_study(even_numbers, options);
    CHECK(alone.ended == study_end::precise);
    CHECK(alone.replicates() >= 12'000);
    CHECK(alone.replicates() <= 15'000);
    CHECK(estimate_mean(alone["x"])->half_width() <= 0.005);
    CHECK(alone == run_study(even_numbers, options, threads(3)));
    CHECK(run_study(even_numbers, {.replicates = 1000, .precision = study_precision{"x", 0.005}}).ended ==
          study_end::finished);
    CHECK(run_study(even_numbers, {.replicates = 1000, .precision = study_precision{"x", 0.5}}).replicates() == 256);
}

TEST_CASE("an output that seldom varies is not called precise while it happens to be constant") {
    // One in 1,000 is a 1: none among the first 256 replicates, of which the interval of the mean has no width.
    const study_of seldom(study_outline{{{"x"}}, {}},
                          [](const study_replicate& replicate, std::span<std::int64_t> outputs) {
                              outputs[0] = replicate.number() >= 256 && replicate.stream().next_uniform() < 0.001;
                          });
    CHECK(*run_study(seldom, {.replicates = 256})["x"].standard_deviation() == 0.0);
    const study_result r = run_study(seldom, {.replicates = 100'000, .precision = study_precision{"x", 0.0003}});
    CHECK(r.ended == study_end::precise);
    CHECK(r.replicates() > 6500); // 1.96 of a bin over 0.0003
    CHECK(*r["x"].mean() > 0.0);
}

TEST_CASE("the interval of a study that stopped at a precision holds the true mean in at least 93 % of 1,000 studies") {
    int held = 0;
    for (std::uint64_t seed = 0; seed < 1000; ++seed) {
        const study_result r =
            run_study(even_numbers, {.seed = seed, .replicates = 5000, .precision = study_precision{"x", 0.03}});
        const auto e = *estimate_mean(r["x"]);
        held += e.interval.low <= 0.4995 && 0.4995 <= e.interval.high;
    }
    CHECK(held >= 930);
}

TEST_CASE("going on with a tighter precision comes to what that would have come to at once") {
    const auto precise_to = [](double half_width) {
        return study_options{.replicates = 100'000, .precision = study_precision{"x", half_width}};
    };
    const study_result coarse = run_study(even_numbers, precise_to(0.01));
    const study_result on = resume_study(coarse, even_numbers, precise_to(0.006), threads(2));
    CHECK(on.replicates() > 2 * coarse.replicates());
    CHECK(on == run_study(even_numbers, precise_to(0.006)));
    CHECK(resume_study(coarse, even_numbers, precise_to(0.01)) == coarse);
    CHECK(resume_study(coarse, even_numbers, precise_to(0.01)).ended == study_end::precise);
}

TEST_CASE("stopping keeps what is done, and going on does the rest") {
    const study_result whole = run_study(even_numbers, {.replicates = 3000});
    for (const bool several : {false, true}) {
        std::stop_source source;
        std::atomic<int> calls{0};
        const study_of stopping(even_numbers.outline(),
                                [&](const study_replicate& replicate, std::span<std::int64_t> outputs) {
                                    if (++calls == 1000) source.request_stop();
                                    even_numbers(replicate, outputs);
                                });
        const study_options options{.replicates = 3000, .stop = source.get_token()};
        const study_result part = several ? run_study(stopping, options, threads(2)) : run_study(stopping, options);
        CHECK(part.ended == study_end::stopped);
        CHECK(part.replicates() >= 1000);
        CHECK(part.replicates() < 1100);
        const study_result read = read_study_bytes(study_bytes(part));
        const study_result on = resume_study(read, even_numbers, {.replicates = 3000}, threads(2));
        CHECK(on.ended == study_end::finished);
        CHECK(on == whole);
    }
    std::stop_source at_once;
    at_once.request_stop();
    CHECK(run_study(even_numbers, {.stop = at_once.get_token()}).replicates() == 0);
}

TEST_CASE("a study without end stops when its time is over") {
    const study_result r =
        run_study(even_numbers, {.replicates = 1ULL << 32U, .most_time = std::chrono::milliseconds(30)});
    CHECK(r.ended == study_end::out_of_time);
    CHECK(r.replicates() > 0);
}

TEST_CASE("progress and checkpoints come as the study goes") {
    std::vector<study_progress> told;
    std::vector<std::uint64_t> kept;
    const study_options options{.replicates = 20'000,
                                .precision = study_precision{"x", 0.01},
                                .progress = [&](const study_progress& p) { told.push_back(p); },
                                .checkpoint = [&](const study_result& r) { kept.push_back(r.replicates()); }};
    const study_result r = run_study(even_numbers, options, threads(2));
    REQUIRE(told.size() > 5);
    CHECK(told.back().done == r.replicates());
    CHECK(told.back().of <= r.replicates());
    CHECK(told.back().per_second > 0.0);
    // The number that a precision takes is seen after 256 replicates already: 3,201 of uniform ones, the spread known to 4 %.
    CHECK(told.front().done == 256);
    CHECK(static_cast<double>(told.front().of) == Approx(3201).epsilon(0.3));
    CHECK(told.front().left->count() > 0.0);
    for (std::size_t i = 1; i < told.size(); ++i) CHECK(told[i - 1].done <= told[i].done);
    REQUIRE(kept.size() > 5);
    CHECK(kept.front() == 256);
    CHECK(kept.back() == r.replicates());
}

TEST_CASE("what progress throws ends the study in any executor") {
    const study_options options{.progress = [](const study_progress&) { throw std::runtime_error("no more"); }};
    CHECK_THROWS_WITH(run_study(even_numbers, options), "no more");
    CHECK_THROWS_WITH(run_study(even_numbers, options, threads(3)), "no more");
    const study_options asking{.stop = stop_signal([]() -> bool { throw std::runtime_error("asked"); })};
    CHECK_THROWS_WITH(run_study(even_numbers, asking, threads(3)), "asked");
}

TEST_CASE("each thread has a workspace of its own") {
    struct counting {
        [[nodiscard]] study_outline outline() const { return {{{"x"}}, {}}; }
        [[nodiscard]] std::vector<std::int64_t> workspace() const { return {0}; }
        void operator()(const study_replicate&, std::span<std::int64_t> outputs, std::vector<std::int64_t>& own) const {
            outputs[0] = ++own[0]; // depends on who runs it, which a model must not: to be seen here
        }
    };
    CHECK(run_study(counting{}, {.replicates = 256})["x"].most() == 256.0);
    CHECK(*run_study(counting{}, {.replicates = 6400}, threads(2))["x"].most() <= 6400.0);
}

TEST_CASE("the mean of a study's interval holds the true mean in 93 to 97 % of 1,000 studies") {
    int held = 0;
    for (std::uint64_t seed = 0; seed < 1000; ++seed) {
        const study_result r = run_study(even_numbers, {.seed = seed, .replicates = 100});
        const auto e = *estimate_mean(r["x"]);
        held += e.interval.low <= 0.4995 && 0.4995 <= e.interval.high;
    }
    CHECK(held >= 930);
    CHECK(held <= 970);
}

TEST_CASE("the deviation of means falls as one over the root of the replicates") {
    const auto deviation = [](std::uint64_t replicates) {
        double squares = 0.0;
        for (std::uint64_t seed = 0; seed < 100; ++seed)
            squares +=
                std::pow(*run_study(even_numbers, {.seed = seed, .replicates = replicates})["x"].mean() - 0.4995, 2) /
                100.0;
        return std::sqrt(squares);
    };
    // Each deviation of 100 studies is known to 7 %, so the ratio to 10 %: three of them. 8 = √64.
    CHECK(deviation(32) / deviation(2048) == Approx(8.0).epsilon(0.3));
}

TEST_CASE("studies that are none are refused by name") {
    const auto with_outline = [](study_outline outline) {
        return study_of(std::move(outline), [](const study_replicate&, std::span<std::int64_t>) {});
    };
    CHECK_THROWS_WITH(run_study(even_numbers, {.replicates = 0}), "replicates: got 0, expected 1 to 2^32");
    CHECK_THROWS_WITH(run_study(with_outline({})), "outputs: got none, expected at least one");
    CHECK_THROWS_WITH(run_study(with_outline({{{"a"}, {"a"}}, {}})),
                      "outputs[1].name: got a, expected a name that no other output has");
    CHECK_THROWS_WITH(run_study(with_outline({{{"a", -1.0}}, {}})),
                      "outputs[0].unit: got -1, expected a finite value above zero");
    CHECK_THROWS_WITH(run_study(with_outline({{{"a"}}, {"why", "why"}})),
                      "reasons[0]: got why, expected words that no other reason has");
    CHECK_THROWS_WITH(run_study(even_numbers, {.precision = study_precision{"y", 0.1}}),
                      "precision.output: got y, expected one of x");
    CHECK_THROWS_WITH(run_study(even_numbers, {.precision = study_precision{"x", 0.0}}),
                      "precision.half_width: got 0, expected a finite value above zero");
    CHECK_THROWS_WITH(
        run_study(even_numbers, {.precision = study_precision{"x", std::numeric_limits<double>::quiet_NaN()}}),
        "precision.half_width: got nan, expected a finite value above zero");
    CHECK_THROWS_WITH(run_study(even_numbers, {.precision = study_precision{"x", 0.1, 1.5}}),
                      "confidence: got 1.5, expected more than 0 and less than 1");
    CHECK_THROWS_WITH(run_study(even_numbers, {.most_time = std::chrono::seconds(0)}),
                      "most_time: got 0 s, expected more than zero");
    CHECK_THROWS_WITH(run_study(even_numbers, {.precision = study_precision{"x", 0.1}}, shard(0, 2)),
                      "precision: got one for a shard, expected a stated number of replicates: only all shards "
                      "together have a precision");
    CHECK_THROWS_WITH(shard(2, 2), "shard: got 2, expected 0 to 1");
    CHECK_THROWS_WITH(shard(0, 0), "shards: got 0, expected at least one");
    CHECK_THROWS_WITH(threads(0), "threads: got 0, expected 1 to 1024");
}

TEST_CASE("parts of different studies and parts that overlap do not merge") {
    const study_result a = run_study(even_numbers, {.title = "a", .replicates = 256}, shard(0, 2));
    study_result b = a;
    CHECK_THROWS_WITH(b.merge(a), "replicates: got 0 to 15 in two parts, expected each in one part");
    CHECK(b == a);
    CHECK_THROWS_WITH(b.merge(run_study(even_numbers, {.title = "b", .replicates = 256}, shard(1, 2))),
                      "title: got b, expected a part of the same study, a");
    CHECK_THROWS_WITH(b.merge(run_study(even_numbers, {.title = "a", .seed = 5, .replicates = 256}, shard(1, 2))),
                      "seed: got 5, expected that of the other parts, 1");
    CHECK_THROWS_WITH(b.merge(run_study(prism_slices{}, {.title = "a", .replicates = 256}, shard(1, 2))),
                      "outline: got other outputs or reasons, expected those of the other parts");
    CHECK_THROWS_WITH(resume_study(a, even_numbers, {.title = "b"}),
                      "title: got b, expected a part of the same study, a");
    CHECK_THROWS_WITH(a["y"], "output: got y, expected one of x");
    CHECK(b == a);
}

} // namespace run_study_test
