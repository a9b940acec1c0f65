// What to do with the trim of a loin, and what the labels say. Invented scenario: the shop of an imaginary town has cut one
// loin, buys lean beef to make its trim into ground beef, and packs it.
// SPDX-License-Identifier: BSL-1.0
#include <iostream>
#include <string>
#include <vector>

#include <tranche/grind.hpp>
#include <tranche/packs.hpp>
#include <tranche/tranche.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    // Cut: portions, and by the rules the fat cover goes to the grinder too.
    const measured_loin loin{
        .length = 16.5_in,
        .stations = {{.at = 0.0_in, .width = 8.4_in, .depth = 3.1_in, .fat_cover = 0.45_in, .tail = 2.0_in},
                     {.at = 16.5_in, .width = 8.2_in, .depth = 2.8_in, .fat_cover = 0.30_in, .tail = 1.0_in}},
        .gluteus_medius = {.onset = 13.2_in, .share_at_end = 0.30}};
    cutting_rules rules{.facing = 0.25_in};
    rules.trim_goes_to[tissue::fat_cover] = destination::grind;
    const cut_spec steak{.name = "strip steak",
                         .thickness = {1.0_in, 1.5_in},
                         .portion = {11.0_oz, 14.0_oz},
                         .trim = {.fat_cover = 0.25_in, .tail = 1.0_in}};
    const auto planned = most_portions(calibrated_profile(loin, 11.9_lb), steak, rules);
    if (!planned.feasible()) return std::cout << planned.why_not() << '\n', 1;

    // How fat is what is left, and what makes it right for 20 %?
    const auto lipids = lipids_of(beef_strip_lean, beef_separable_fat);
    const auto trim = grind_source_of<usd>(own_trim_of(planned.plan), lipids, 0.40_usd / 1_lb);
    if (!trim) return 1;
    const legal_fat_limit law{.most = 30_percent, .law = "9 CFR 319.15(a)"};
    const std::vector<grind_source<usd>> offers{
        {.name = "chuck", .fat = 15_percent, .price = 4.10_usd / 1_lb},
        {.name = "lean round", .fat = 6_percent, .price = 5.20_usd / 1_lb, .supply = {0_lb, 20_lb}}};
    const auto all_of_it = cheapest_addition(*trim, offers, fat_of_exactly(20_percent), law);
    const auto daily = worth_in_batch(*trim, offers, {.batch = 10_lb, .fat = fat_at_most(20_percent)}, law);

    std::vector<report_section> report{blend_section(all_of_it, us_kitchen, "All of the trim made into ground beef")};
    if (const auto worth = worth_when_sold(all_of_it, 0, 5.50_usd / 1_lb))
        report.back().paragraphs.push_back("If the grind sells at 5.50 USD/lb, the trim brings " +
                                           to_text(*worth, price_basis::per_pound) + '.');
    if (daily.average)
        report.back().paragraphs.push_back("In 10 lb at 20 % or less that are ground anyway, it saves " +
                                           to_text(*daily.average, price_basis::per_pound) +
                                           " of trim in purchases.");

    // Two packs from the scale, on trays of 0.02 lb.
    const label_rules labels{.weighing = {hundredths_of_pound}, .basis = price_basis::per_pound};
    report.push_back(
        labels_section<usd>({label_of<usd>("ground beef, 20 % fat", 1.536_lb, 0.02_lb, 5.50_usd / 1_lb, labels),
                             label_of<usd>("strip steak", 0.817_lb, 0.02_lb, 14.99_usd / 1_lb, labels)},
                            labels));
    report.push_back({.title = "Cautions", .points = cautions()});
    std::cout << text_of(report);
}
