// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/answer_lines.hpp>

#include <cstdint>
#include <string>
#include <vector>

#include "report/sample.hpp"
#include "support/catch.hpp"

namespace answer_lines_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

/// Lines with plain spaces.
std::vector<std::string> plain(std::vector<std::string> lines) {
    for (std::string& line : lines)
        for (std::size_t at; (at = line.find("\xC2\xA0")) != std::string::npos;) line.replace(at, 2, " ");
    return lines;
}

/// An invented loin of 3.99 kg: three steaks of 300, 310 and 420 g, a fillet slab of 500 g in two, the rest ground.
cutting_plan invented() {
    cutting_plan cuts;
    cuts.specs = {{.name = "steak", .thickness = {20_mm, 30_mm}},
                  {.name = "fillet", .thickness = {20_mm, 60_mm}, .pieces = 2}};
    cuts.rules.loose.resize(1);
    cuts.extent = 400_mm;
    cuts.total = {3'990'000'000};
    const auto add = [&](slab_kind kind, std::size_t option, std::int64_t grams, length to) {
        slab s{.kind = kind, .option = option};
        s.start = cuts.slabs.empty() ? length{} : cuts.slabs.back().end();
        s.thickness = to - s.start;
        s.kept[tissue::eye] = {grams * 1'000'000};
        cuts.slabs.push_back(s);
    };
    add(slab_kind::portions, 0, 310, 25_mm);
    add(slab_kind::portions, 0, 300, 50_mm);
    add(slab_kind::portions, 0, 420, 80_mm);
    add(slab_kind::portions, 1, 500, 120_mm);
    add(slab_kind::end, 0, 2460, 400_mm);
    return cuts;
}

} // namespace

TEST_CASE("an answer says portions by cut with their middle weight, and the yield where nothing is priced") {
    cutting_plan cuts = invented();
    // 1530 g of 3990 g are 38.35 %.
    CHECK(plain(answer_lines(as_given(cuts), metric_kitchen)) ==
          std::vector<std::string>{"5 portions: 3 × steak of 310 g (300 to 420 g); 2 × fillet of 250 g.",
                                   "Yield 38.3 % of the loin on the board.",
                                   "The yield of 38.3 % is a ceiling: nothing is trimmed off or faced."});
    cuts.slabs[3].trim[tissue::fat_cover] = {1};
    CHECK(answer_lines(as_given(cuts), metric_kitchen).size() == 2); // a loin that is trimmed has no ceiling
    cuts = invented();
    cuts.slabs.front().kind = slab_kind::facing;
    CHECK(answer_lines(as_given(cuts), metric_kitchen).size() == 2);
}

TEST_CASE("an answer of one cut needs no sum, and one without portions points to the warnings") {
    cutting_plan cuts = invented();
    cuts.slabs[3].kind = slab_kind::loose;
    cuts.slabs[3].option = 0;
    CHECK(plain(answer_lines(as_given(cuts), metric_kitchen)).front() == "3 × steak of 310 g (300 to 420 g).");
    for (slab& s : cuts.slabs) s.kind = slab_kind::loose, s.option = 0;
    CHECK(answer_lines(as_given(cuts)) == std::vector<std::string>{"No portions: the warnings say why."});
}

TEST_CASE("an answer with a bill says what one costs, and what cutting saves or loses against each alternative") {
    const cutting_plan cuts = invented();
    // 3.99 kg at 10.00 make 39.90, shared out over 1.53 kg: 26.08 a kilogram; 8.0843, 7.8235, 10.9529 and twice 6.5196, by largest
    // remainder 8.09, 7.82, 10.95 (26.86, so 8.95 each on average) and twice 6.52. No purge: the board has what was bought.
    const bill<usd> paid = settle(cuts, purchase<usd>{.weight = 3.99_kg, .price = 10_usd / 1_kg});
    CHECK(plain(answer_lines(as_given(cuts), paid, {}, metric_kitchen)) ==
          std::vector<std::string>{
              "5 portions: 3 × steak of 310 g (300 to 420 g), 8.95 USD each on average; 2 × fillet of 250 g, 6.52 USD "
              "each.",
              "Yield 38.3 % of what was bought; the portions cost 26.08 USD/kg.",
              "The yield of 38.3 % is a ceiling: nothing is trimmed off or faced, and no purge is counted."});
    // Ready cut at 30.00 the same 1.53 kg cost 45.90: 6.00 saved; at 20.00 30.60: 9.30 lost. Break-even at 45.90 / 3.99 = 11.504 and
    // 30.60 / 3.99 = 7.669 a kilogram.
    const std::vector<savings<usd>> saved{make_or_buy(ready_cut<usd>{"good steak", 30_usd / 1_kg}, cuts, paid),
                                          make_or_buy(ready_cut<usd>{"any steak", 20_usd / 1_kg}, cuts, paid)};
    CHECK(answer_lines(as_given(cuts), paid, saved, metric_kitchen).at(1) ==
          "Cutting saves 6.00 USD against good steak (pays up to 11.50 USD/kg); loses 9.30 USD against any steak (pays "
          "up to "
          "7.67 USD/kg).");
    const bill<usd> purged = settle(cuts, purchase<usd>{.weight = 4.1_kg, .price = 10_usd / 1_kg});
    CHECK(answer_lines(as_given(cuts), purged, {}, metric_kitchen).size() == 2);
}

} // namespace answer_lines_test
