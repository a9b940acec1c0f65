// A record of cutting tests, what it says of two suppliers and of the plans, and its control chart. Invented scenario.
// SPDX-License-Identifier: BSL-1.0
#include <exception>
#include <filesystem>
#include <iostream>
#include <string>

#include <tranche/records.hpp>
#include <tranche/tranche.hpp>

#include "made_files.hpp"

namespace {

using namespace tranche;
using namespace tranche::literals;

/// Invented suppliers and weights.
constexpr const char* record_text =
    R"(date,supplier,grade,note,bought_g,usable_g,strips_g,dice_g,grind_g,rendering_g,discard_g,cutting_loss_g,purge_g,predicted_yield
2026-01-08,Supplier North,choice,,5975,4410,240,0,520,745,0,25,35,
2026-01-12,"Supplier South, Ltd.",select,,5240,3655,260,0,635,620,0,10,55,
2026-01-16,"Supplier South, Ltd.",choice,,5080,3575,265,0,555,625,0,15,45,
2026-01-23,Supplier North,choice,,5950,4290,200,0,525,855,0,20,55,
2026-01-30,Supplier North,choice,,5880,4445,220,0,540,595,0,20,60,
2026-02-02,"Supplier South, Ltd.",choice,,5190,3625,180,0,500,810,0,20,50,
2026-02-05,"Supplier South, Ltd.",choice,,5485,3880,245,0,550,690,0,25,90,0.717
2026-02-12,Supplier North,choice,,5225,3860,170,0,465,690,0,10,30,0.746
2026-02-15,Supplier North,select,,6000,4365,310,0,590,665,0,15,50,0.736
2026-02-22,"Supplier South, Ltd.",choice,,5285,3660,190,0,655,715,0,20,45,0.717
2026-02-26,"Supplier South, Ltd.",select,,5855,4180,220,0,675,710,0,10,60,0.715
2026-03-05,Supplier North,choice,,5655,4195,205,0,530,645,0,15,65,0.736
2026-03-12,Supplier North,select,,5310,3910,175,0,465,690,0,15,50,0.743
2026-03-16,Supplier North,choice,,5435,3895,250,0,605,615,0,15,50,0.723
2026-03-23,"Supplier South, Ltd.",choice,,5145,3620,270,0,515,665,0,15,55,0.712
2026-03-27,"Supplier South, Ltd.",choice,,5190,3620,290,0,525,690,0,10,55,0.721
2026-03-30,Supplier North,choice,bag leaked; rib end torn,5190,3175,290,0,630,850,0,10,235,0.737
2026-04-03,Supplier North,choice,,5970,4330,250,0,655,675,0,15,45,0.729
2026-04-10,"Supplier South, Ltd.",select,,5685,4000,235,0,545,835,0,10,55,0.716
2026-04-17,"Supplier South, Ltd.",choice,,6165,4345,305,0,630,810,0,15,60,0.704
2026-04-20,Supplier North,choice,,5900,4295,185,0,560,790,0,10,55,0.737
2026-04-23,Supplier North,choice,,5575,4055,235,0,535,665,0,25,55,0.73
2026-04-26,"Supplier South, Ltd.",choice,,5685,3945,290,0,675,715,0,10,45,0.704
2026-05-03,"Supplier South, Ltd.",choice,,5665,3985,250,0,630,735,0,15,50,0.712
2026-05-07,Supplier North,select,,5715,4115,230,0,620,660,0,25,65,0.731
2026-05-11,Supplier North,choice,,5325,3845,205,0,595,635,0,10,35,0.744
)";

constexpr const char* usage = R"(yield_record [CHART]

Summarises an embedded record of cutting tests (an invented scenario) and writes its control chart as SVG to the file CHART.

Exit status: 0 all is well; 2 the command line is wrong; 3 the chart could not be written.
)";

/// A loin that came in today, still in its bag when it was taped. Invented.
const measured_loin taped{.length = 40_cm,
                          .stations = {{.at = 0_cm, .width = 23_cm, .depth = 86_mm, .fat_cover = 15_mm, .tail = 6_cm},
                                       {.at = 40_cm, .width = 22_cm, .depth = 80_mm, .fat_cover = 12_mm, .tail = 4_cm}},
                          .gluteus_medius = {.onset = 34_cm, .share_at_end = 0.3}};

/// What purge leaves of it on the board calibrates the model, and what plans came to corrects its plan.
void print_expectation(const learned_losses& learned, mass bought) {
    const mass board = learned.expected_board_weight(bought);
    const auto model = calibrate(taped, board);
    const tranche::planned planned = most_portions(tabulate(model),
                                                   {{.name = "strip steak",
                                                     .thickness = {28_mm, 36_mm},
                                                     .portion = {300_g, 360_g},
                                                     .trim = {.fat_cover = 5_mm, .tail = 2_cm}}},
                                                   {.facing = 10_mm});
    const fraction yield = to_mass(balance_of(planned.plan).portion_total()) / bought;
    std::cout << "Of " << to_text(bought, thousandths_of_kilogram) << " bought expect "
              << to_text(board, thousandths_of_kilogram) << " on the board: faces that fill "
              << to_text(model.fill(), 2) << " of width x depth.\nThe plan for it, " << planned.plan.portion_count()
              << " steaks and " << percent_text(yield) << ", will come to about "
              << percent_text(learned.corrected_yield(yield)) << ".\n";
}

void print(const std::string& title, const report_table& table) {
    std::cout << title << '\n' << std::string(title.size(), '=') << '\n' << text_table(table) << '\n';
}

} // namespace

int main(int count, char** words) {
    const std::string file = count > 1 ? words[1] : "";
    if (count > 2 || file.starts_with("-")) {
        const bool help = count == 2 && (file == "--help" || file == "-h");
        (help ? std::cout : std::cerr) << usage;
        return help ? 0 : 2;
    }
    try {
        const std::vector<cutting_record> records = read_cutting_records(record_text);
        const record_summary summary = summarise_records(records);
        print("Yield by supplier", record_table(summary));
        print("Suppliers and plans", record_findings_table(summary));
        const learned_losses learned = learn_losses(records);
        print("Learned for the next loin", learned_table(learned));
        print_expectation(learned, 5.6_kg);
        const yield_chart chart = chart_yields(records);
        for (const std::size_t i : chart.chart.outside)
            std::cout << "Outside the limits: " << date_text(chart.records[i].date) << ", " << chart.records[i].supplier
                      << ", " << percent_text(chart.chart.values[i]) << " (" << chart.records[i].note << ").\n";
        if (file.empty()) return 0;
        const std::filesystem::path path(file);
        example::write_files(
            path.has_parent_path() ? path.parent_path() : ".",
            {{path.filename().string(), control_chart_svg(chart, "Yield of strip loins, invented record")}});
        return 0;
    } catch (const std::exception& error) {
        std::cerr << detail::printable(error.what()) << '\n';
    }
    return 3;
}
