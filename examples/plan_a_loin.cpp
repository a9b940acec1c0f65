// Plans a loin from a cut sheet: prints plan, yields, costs and savings, and writes them as CSV, SVG and HTML.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <exception>
#include <filesystem>
#include <iostream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/tranche.hpp>

#include "made_files.hpp"
#include "sample_sheet.hpp"
#include "sheet_file.hpp"
#include <tranche/sheet/detail/priced_sheet.hpp>
#include <tranche/sheet/detail/sheet_plan.hpp>

namespace {

using namespace tranche;

constexpr const char* usage = R"(plan_a_loin [--output FOLDER] [SHEET]

Plans where to cut a whole boneless loin. SHEET is a cut sheet, an INI file; without it an embedded sample (an invented
scenario) is planned. The report is printed, and files are written to FOLDER (default: one of
your own for each name of a sheet, among the temporary files).

  --output FOLDER   where to write report.html, the CSV tables and the SVG pictures
  --print-sample    print the embedded sample sheet, to start your own from
  --help            this text

Exit status: 0 a plan was made; 1 the sheet is fine but what it asks for cannot be cut; 2 the sheet or the command line is
wrong; 3 a file could not be read or written, or the program failed.
)";

enum exit_status { all_planned = 0, no_portions = 1, bad_input = 2, file_trouble = 3 };

/// Not every plan has all of them. Those of an earlier run that this one does not write would be taken for its own.
const std::vector<std::string_view> names_of_files{
    "report.html",   "report.txt",  "slabs.csv",     "account.csv", "from_above.svg", "from_the_side.svg", "faces.svg",
    "cut_ruler.svg", "savings.csv", "waterfall.svg", "what_if.csv", "what_if.svg",    "offers.csv"};

/// Cutting the loin against each alternative of the sheet, on the basis of what is wanted of either.
template <currency C>
std::vector<savings<C>> comparisons(const detail::cut_sheet<C>& sheet, const profile& meat,
                                    const tranche::planned& planned_loin, const bill<C>& settled) {
    std::vector<savings<C>> compared;
    for (const auto& other : sheet.alternatives) {
        ready_cut<C> ready = other.ready;
        const auto own = own_portions_of(planned_loin.plan, sheet.basis);
        const bool any = std::any_of(own.begin(), own.end(), [&](const own_portions& o) {
            return o.weight.count > 0 &&
                   (ready.replaces.empty() || std::count(ready.replaces.begin(), ready.replaces.end(), o.name) > 0);
        });
        if (other.look && any) // without portions to replace there are no slabs that it could look like
            ready.edible_share =
                edible_share(shares_of_ready_cut(*other.look, meat, planned_loin.plan, ready.replaces), sheet.basis);
        compared.push_back(make_or_buy(ready, planned_loin.plan, settled,
                                       {.prices = sheet.prices, .costs = sheet.costs}, sheet.basis));
    }
    return compared;
}

/// This loin as planned among the offers of the sheet, by what an edible portion like the plan's costs.
template <currency C>
std::vector<ranked_offer<C>> ranked_offers(const detail::cut_sheet<C>& sheet, const tranche::planned& planned_loin,
                                           const bill<C>& settled) {
    if (sheet.offers.empty() || !planned_loin.feasible()) return {};
    std::vector<offer<C>> offers{
        offer_of("this loin, as planned", planned_loin.plan, settled, sheet.basis, sheet.costs)};
    const mass portion =
        offers.front().edible_share * offers.front().portions / static_cast<double>(planned_loin.plan.portion_count());
    for (const detail::sheet_offer<C>& o : sheet.offers) {
        const double portions = o.edible_share * o.yield * o.bought.weight / portion;
        const money<C> costs = o.time * sheet.costs.pay + sheet.costs.knife_wear +
                               sheet.costs.of_portions(portions, o.yield * o.bought.weight);
        offers.push_back(offer_at_yield(
            o.name, o.bought, {.yield = o.yield, .rest = o.rest, .edible_share = o.edible_share, .costs = costs}));
    }
    return rank_offers(offers, portion);
}

/// How the readings of the sheet agree with the scale and with what loins are like.
report_section readings_section(const detail::cutting_sheet& sheet) {
    report_section section{.title = "Readings",
                           .points = {in_units(scale_against_tape(sheet.loin, sheet.board_weight), sheet.units)}};
    for (const sentence& doubt : doubts(sheet.loin)) section.points.push_back(in_units(doubt, sheet.units));
    return section;
}

template <currency C>
exit_status plan_sheet(const detail::sheet_sections& written, const std::filesystem::path& folder) {
    const auto sheet = detail::read_cut_sheet<C>(written);
    const calibrated_loin<measured_loin> loin = detail::weighed_loin(sheet);
    const profile meat = tabulate(loin, sheet.grid);
    const detail::sheet_plan cutting = detail::plan_of_sheet(
        sheet, meat, [&](const cutting_problem& problem) { return worth_objective(problem, sheet.prices); });
    const tranche::planned& planned_loin = cutting.planned;
    // A second opinion before anybody takes up a knife.
    if (const auto faults = verify(planned_loin.plan, meat, sheet.cuts, sheet.rules); !faults.empty())
        throw std::logic_error("the plan does not hold: " + faults.front());

    const bill<C> settled = settle(planned_loin.plan, sheet.bought, sheet.prices);
    const std::vector<savings<C>> compared = comparisons(sheet, meat, planned_loin, settled);
    const std::vector<ranked_offer<C>> offers = ranked_offers(sheet, planned_loin, settled);

    // Every text is made before the first one is shown or written: a sheet is planned whole or not at all.
    std::string report;
    if (!sheet.title.empty()) {
        for (const std::string& line : detail::wrapped(detail::printable(sheet.title), 80)) report += line + '\n';
        report += '\n';
    }
    std::vector<report_section> sections = report_sections(
        planned_loin, settled, {.saved = compared, .units = sheet.units, .offers = offers, .basis = sheet.basis});
    add_pictures<C>(sections, settled, compared, sheet.units);
    std::vector<report_section> more{readings_section(sheet)};
    more.insert(more.end(), cutting.remarks.begin(), cutting.remarks.end());
    if (cutting.found)
        for (report_section& section : what_if_sections<C>(*cutting.found, sheet.prices, sheet.units))
            more.push_back(std::move(section));
    sections.insert(sections.end() - 1, more.begin(), more.end()); // the cautions stay last
    report += text_of(sections);
    const cutting_plan& cuts = planned_loin.plan;
    const std::vector<cut_face> faces = cut_faces(loin, cuts);
    const loin_outline outline = outline_of(loin);
    std::vector<savings_grid<C>> grids;
    for (const savings<C>& saved : compared)
        if (auto grid = savings_grid_around(saved, sheet.units)) grids.push_back(std::move(*grid));
    std::vector<example::made_file> files{
        {"report.html", html_report(sheet.title, sections, cuts, {outline, faces}, sheet.units)},
        {"report.txt", report},
        {"slabs.csv", slabs_csv(cuts, settled)},
        {"account.csv", account_csv(settled)},
        {"from_above.svg", view_from_above_svg(cuts, outline, sheet.units)},
        {"from_the_side.svg", view_from_side_svg(cuts, outline, sheet.units)},
        {"faces.svg", faces_svg(faces, cuts, sheet.units)},
        {"cut_ruler.svg", cut_ruler_svg(cuts, sheet.units)}};
    std::string money; // the names of the files about savings
    const auto add = [&](const std::string& name, std::string text) {
        files.emplace_back(name, std::move(text));
        money += (money.empty() ? "\n  " : ", ") + name;
    };
    if (!compared.empty()) {
        add("savings.csv", savings_csv(compared, settled.test));
        // Pictures of the first alternative of the sheet; the page has those of all.
        add("waterfall.svg", waterfall_svg(cost_breakdown(compared.front(), settled.test), compared.front().against));
    } else {
        add("waterfall.svg", waterfall_svg(cost_breakdown(settled.test), ""));
    }
    if (!grids.empty()) {
        add("what_if.csv", savings_grid_csv(grids));
        add("what_if.svg", savings_grid_svg(grids.front(), sheet.units));
    }
    if (!offers.empty()) add("offers.csv", offers_csv(offers));

    example::make_folder(folder);
    example::write_files(folder, files, names_of_files);
    std::cout << report << "\nPictures and tables: " << detail::printable((folder / "report.html").string())
              << "\n  beside it: from_above.svg, from_the_side.svg, faces.svg,"
                 "\n  cut_ruler.svg (in one piece; report.html has it in strips to print at 100 %),"
                 "\n  slabs.csv, account.csv, report.txt"
              << (money.empty() ? "" : ",") << money << '\n';
    if (!std::cout.flush()) throw example::file_error("cannot write the report to standard output");
    return planned_loin.feasible() ? all_planned : no_portions;
}

} // namespace

int main(int count, char** words) {
    kitchen_units units = us_kitchen;
    try {
        std::filesystem::path folder, file;
        for (int i = 1; i < count; ++i) {
            const std::string_view word = words[i];
            if (word == "--help" || word == "-h") return std::cout << usage, all_planned;
            if (word == "--print-sample") return std::cout << example::sample_sheet_text, all_planned;
            if (word == "--output") {
                if (++i == count) throw invalid_input("--output", "nothing", "a folder");
                folder = words[i];
            } else if (word.starts_with("-") || word.empty()) {
                throw invalid_input("command line", '"' + std::string(word) + '"',
                                    "--output, --print-sample, --help or a sheet");
            } else if (!file.empty()) {
                throw invalid_input("command line", "two sheets", "one");
            } else {
                file = word;
            }
        }
        const auto sections = example::sections_of(file);
        units = detail::units_of(sections);
        if (folder.empty()) folder = example::own_folder_for(file);
        return detail::in_currency_of(sections, [&]<currency C>(C) { return plan_sheet<C>(sections, folder); });
    } catch (const invalid_input& error) {
        std::cerr << detail::error_text(error, units) << '\n';
        return bad_input;
    } catch (const std::exception& error) { // files, memory, or a fault of our own
        std::cerr << detail::printable(error.what()) << '\n';
        return file_trouble;
    }
}
