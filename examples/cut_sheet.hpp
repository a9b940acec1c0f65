// A cut sheet: an INI file in which a person writes down a loin, what may be cut from it, prices and alternatives.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <istream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <boost/property_tree/ini_parser.hpp>
#include <boost/property_tree/ptree.hpp>

#include <tranche/tranche.hpp>

namespace example {

using namespace tranche;

enum class aim { most_portions, least_waste, best_value };

/// Everything that a sheet says, in the units of the library.
template <currency C>
struct cut_sheet {
    std::string title;
    kitchen_units units = us_kitchen;
    measured_loin loin;
    mass board_weight{}; ///< what the scale says once the loin is unpacked
    purchase<C> bought;
    length grid = default_step;
    aim plan_for = aim::best_value;
    std::vector<cut_spec> cuts;
    cutting_rules rules;
    price_list<C> prices;
    std::vector<ready_cut<C>> alternatives;
};

/// A section of the sheet. Every key is asked for once; `finish` refuses what nobody asked for.
class sheet_section {
public:
    sheet_section(std::string name, const boost::property_tree::ptree& entries) : name_(std::move(name)) {
        for (const auto& [key, value] : entries) unread_.emplace_back(key, without_comment(value.data()));
    }

    [[nodiscard]] std::string field(std::string_view key) const { return '[' + name_ + "] " + std::string(key); }

    [[nodiscard]] bool has(const std::string& key) const { return find(key) != unread_.end(); }

    /// The text of a key, which is then spent; empty if the sheet does not have it.
    [[nodiscard]] std::string text(const std::string& key) {
        asked_.push_back(key);
        const auto found = find(key);
        if (found == unread_.end()) return {};
        std::string value = found->second;
        unread_.erase(found);
        if (value.empty()) throw invalid_input(field(key), "nothing", "a value behind the =");
        return value;
    }
    [[nodiscard]] std::string required_text(const std::string& key, const std::string& expected) {
        std::string value = text(key);
        if (value.empty()) throw invalid_input(field(key), "nothing", expected);
        return value;
    }
    template <class Quantity>
    [[nodiscard]] Quantity required(const std::string& key, const std::string& expected) {
        return from_text<Quantity>(required_text(key, expected), field(key));
    }
    template <class Quantity>
    [[nodiscard]] Quantity optional(const std::string& key, Quantity otherwise) {
        const std::string value = text(key);
        return value.empty() ? otherwise : from_text<Quantity>(value, field(key));
    }
    /// "A", "A to B", "at least A", "at most B".
    template <class Quantity>
    [[nodiscard]] range<Quantity> limits(const std::string& key, range<Quantity> otherwise) {
        const std::string value = text(key);
        if (value.empty()) return otherwise;
        const auto read = [&](std::string_view part) { return from_text<Quantity>(part, field(key)); };
        if (value.starts_with("at least ")) return {read(std::string_view(value).substr(9)), unlimited<Quantity>()};
        if (value.starts_with("at most ")) return {Quantity{}, read(std::string_view(value).substr(8))};
        const auto to = value.find(" to ");
        if (to == std::string::npos) return {read(value)};
        return {read(std::string_view(value).substr(0, to)), read(std::string_view(value).substr(to + 4))};
    }
    /// One of a list of words, given with what they mean.
    template <class T>
    [[nodiscard]] T choice(const std::string& key, const std::vector<std::pair<std::string_view, T>>& words,
                           T otherwise) {
        const std::string value = text(key);
        if (value.empty()) return otherwise;
        std::string known;
        for (const auto& [word, meaning] : words) {
            if (value == word) return meaning;
            known += (known.empty() ? "" : ", ") + std::string(word);
        }
        throw invalid_input(field(key), '"' + value + '"', "one of " + known);
    }
    void finish() const {
        if (unread_.empty()) return;
        std::string known;
        for (const std::string& key : asked_) known += (known.empty() ? "" : ", ") + key;
        throw invalid_input(field(unread_.front().first), "a key that has no meaning here", "one of " + known);
    }

private:
    [[nodiscard]] std::vector<std::pair<std::string, std::string>>::const_iterator find(const std::string& key) const {
        return std::find_if(unread_.begin(), unread_.end(), [&](const auto& e) { return e.first == key; });
    }
    /// A value may be followed by a remark: "3 in ; at the thickest".
    [[nodiscard]] static std::string without_comment(std::string value) {
        if (const auto remark = value.find(" ;"); remark != std::string::npos) value.erase(remark);
        const auto last = value.find_last_not_of(" \t\r");
        return last == std::string::npos ? std::string{} : value.substr(0, last + 1);
    }

    std::string name_;
    std::vector<std::pair<std::string, std::string>> unread_;
    std::vector<std::string> asked_;
};

using sheet_sections = std::vector<std::pair<std::string, boost::property_tree::ptree>>;

/// The sections of a sheet in order. Throws `invalid_input` with the line for what is no INI file.
[[nodiscard]] inline sheet_sections read_sections(std::istream& in) {
    boost::property_tree::ptree tree;
    try {
        boost::property_tree::read_ini(in, tree);
    } catch (const boost::property_tree::ini_parser_error& error) {
        throw invalid_input("line " + std::to_string(error.line()), error.message(),
                            "[section], key = value, or a remark behind ;");
    }
    sheet_sections sections;
    for (const auto& [name, entries] : tree) {
        if (entries.empty() && !entries.data().empty())
            throw invalid_input(name, '"' + entries.data() + '"', "a [section] in front of the first key");
        sections.emplace_back(name, entries);
    }
    return sections;
}

[[nodiscard]] inline const boost::property_tree::ptree& section_named(const sheet_sections& sections,
                                                                      const std::string& name) {
    for (const auto& [key, entries] : sections)
        if (key == name) return entries;
    throw invalid_input('[' + name + ']', "no such section", "one");
}

[[nodiscard]] inline std::vector<std::pair<std::string_view, destination>> destination_words() {
    std::vector<std::pair<std::string_view, destination>> words;
    for (const destination d : all_destinations) words.emplace_back(name_of(d), d);
    return words;
}

[[nodiscard]] inline trim_spec read_trim(sheet_section& in) {
    return {.fat_cover = in.optional<length>("fat cover", unlimited<length>()),
            .tail = in.optional<length>("tail", unlimited<length>()),
            .silverskin = in.choice<bool>("silverskin", {{"on", true}, {"off", false}}, true)};
}

[[nodiscard]] inline gluteus_medius_rule read_gluteus_medius_rule(sheet_section& in) {
    const std::string key = "gluteus medius", value = in.text(key);
    if (value.empty() || value == "one face") return on_one_face;
    if (value == "none") return no_gluteus_medius;
    if (value == "any") return any_gluteus_medius;
    if (value.starts_with("up to "))
        return gluteus_medius_up_to(from_text<fraction>(std::string_view(value).substr(6), in.field(key)));
    throw invalid_input(in.field(key), '"' + value + '"', "one of none, one face, any, or up to a share such as 20 %");
}

/// Runs a check of the library and puts its errors into the words of the sheet: `section` ("[cut strip steak] ") in front,
/// keys with spaces, the cut's own name left out.
template <class Check>
void in_sheet_terms(const std::string& section, Check&& check) {
    try {
        check();
    } catch (const invalid_input& error) {
        std::string key = error.field();
        if (const auto name = key.find(": "); name != std::string::npos) key.erase(0, name + 2);
        std::replace(key.begin(), key.end(), '_', ' ');
        throw invalid_input(section + key, error.value(), error.expected());
    }
}

/// What can only be judged once all of the sheet is read. `stations` are the names of their sections.
template <currency C>
void check_as_a_whole(const cut_sheet<C>& sheet, const std::vector<std::string>& stations) {
    if (sheet.cuts.empty()) throw invalid_input("[cut ...]", "no such section", "at least one");
    in_sheet_terms("", [&] { validate(sheet.cuts); });
    in_sheet_terms("[loin] ", [&] { require_positive(sheet.loin.length, "length"); });
    if (stations.empty()) throw invalid_input("[station ...]", "no such section", "at least one");
    for (std::size_t i = 0; i < stations.size(); ++i) {
        const station& s = sheet.loin.stations[i];
        const std::string section = '[' + stations[i] + "] ";
        in_sheet_terms(section, [&] {
            validate({.width = s.width, .depth = s.depth, .fat_cover = s.fat_cover, .tail = s.tail}, sheet.loin.shape,
                     "");
        });
        if (i > 0 && !(s.at > sheet.loin.stations[i - 1].at))
            throw invalid_input(section + "at", shown(s.at), "more than at the station before it");
        if (s.at > sheet.loin.length)
            throw invalid_input(section + "at", shown(s.at), "at most the length, " + shown(sheet.loin.length));
    }
    in_sheet_terms("[loin] ", [&] { validate(sheet.loin); });
    in_sheet_terms("[loin] ", [&] { validate(sheet.bought); });
    if (!(sheet.board_weight <= sheet.bought.weight))
        throw invalid_input("[loin] weight on the board", shown(sheet.board_weight),
                            "at most the invoiced weight, " + shown(sheet.bought.weight));
    in_sheet_terms("[cutting] ", [&] { validate(sheet.rules, sheet.loin.length); });
    if (sheet.plan_for == aim::best_value)
        for (const cut_spec& cut : sheet.cuts)
            if (!sheet.prices.portions.contains(cut.name))
                throw invalid_input("[cut " + cut.name + "] price", "nothing",
                                    "a price, or a price each: the plan is for best value");
    for (const ready_cut<C>& other : sheet.alternatives)
        for (const std::string& name : other.replaces)
            if (std::none_of(sheet.cuts.begin(), sheet.cuts.end(), [&](const cut_spec& c) { return c.name == name; }))
                throw invalid_input("[compare " + other.name + "] replaces", '"' + name + '"',
                                    "names of cuts in the sheet");
}

/// Reads a whole sheet in currency C. Throws `invalid_input` with section and key as its field.
template <currency C>
[[nodiscard]] cut_sheet<C> read_cut_sheet(const sheet_sections& sections) {
    cut_sheet<C> sheet;
    sheet.rules.loose.clear();
    std::vector<std::string> stations;
    for (const char* required : {"sheet", "loin", "cutting"}) (void)section_named(sections, required);
    for (const auto& section : sections) {
        const std::string& name = section.first; // not bound, for lambdas that Clang 14 should compile
        sheet_section in(name, section.second);
        const auto named = [&](std::string_view prefix) { return name.starts_with(prefix); };
        const auto rest = [&](std::string_view prefix) { return name.substr(prefix.size()); };
        if (name == "sheet") {
            sheet.title = in.text("title");
            (void)in.text("currency");
            sheet.units =
                in.choice<kitchen_units>("units", {{"us", us_kitchen}, {"metric", metric_kitchen}}, us_kitchen);
        } else if (name == "loin") {
            sheet.bought.weight = in.required<mass>("weight", "the invoiced weight, such as 12 lb 2 oz");
            sheet.board_weight = in.optional<mass>("weight on the board", sheet.bought.weight);
            sheet.bought.price =
                in.required<unit_price<C>>("price", "the price paid, such as 8.10 " + std::string(C::code) + "/lb");
            sheet.loin.length = in.required<length>("length", "the length as it lies, such as 16 1/2 in");
            sheet.loin.shape.silverskin = in.optional<length>("silverskin", length{});
            sheet.loin.shape.fill = in.optional<fraction>("fill", sheet.loin.shape.fill);
            sheet.loin.gluteus_medius.onset = in.optional<length>("gluteus medius from", unlimited<length>());
            sheet.loin.gluteus_medius.share_at_end = in.optional<fraction>("gluteus medius share", 0.0);
        } else if (named("station ")) {
            const std::string reading = "a reading such as 8 1/4 in";
            stations.push_back(name);
            sheet.loin.stations.push_back({.at = in.required<length>("at", "the distance from the rib face"),
                                           .width = in.required<length>("width", reading),
                                           .depth = in.required<length>("depth", reading),
                                           .fat_cover = in.optional<length>("fat cover", length{}),
                                           .tail = in.optional<length>("tail", length{})});
        } else if (name == "cutting") {
            sheet.plan_for = in.choice<aim>("plan for",
                                            {{"most portions", aim::most_portions},
                                             {"least waste", aim::least_waste},
                                             {"best value", aim::best_value}},
                                            aim::best_value);
            sheet.rules.facing = in.optional<length>("facing", length{});
            sheet.rules.facing_goes_to = in.choice("facing goes to", destination_words(), sheet.rules.facing_goes_to);
            sheet.grid = in.optional<length>("grid", default_step);
        } else if (name == "trim") {
            auto& to = sheet.rules.trim_goes_to;
            to[tissue::fat_cover] = in.choice("fat cover", destination_words(), to[tissue::fat_cover]);
            to[tissue::tail] = in.choice("tail", destination_words(), to[tissue::tail]);
            to[tissue::connective] = in.choice("silverskin", destination_words(), to[tissue::connective]);
        } else if (named("cut ")) {
            cut_spec cut{.name = rest("cut ")};
            cut.thickness = in.limits<length>("thickness", {});
            cut.portion = in.limits<mass>("portion", {});
            const double pieces = in.optional<fraction>("pieces", 1.0);
            if (!(pieces >= 1.0 && pieces <= 100.0 && pieces == static_cast<int>(pieces)))
                throw invalid_input(in.field("pieces"), shown(pieces), "a whole number, 1 to 100");
            cut.pieces = static_cast<int>(pieces);
            cut.trim = read_trim(in);
            cut.gluteus_medius = read_gluteus_medius_rule(in);
            cut.kerf = in.optional<length>("kerf", length{});
            const bool priced = in.has("price") || in.has("price each");
            const portion_price<C> price{.by_weight = in.optional<unit_price<C>>("price", {}),
                                         .each = in.optional<money<C>>("price each", {})};
            if (priced) sheet.prices.portions[cut.name] = price;
            in_sheet_terms(in.field(""), [&] { validate(cut); });
            sheet.cuts.push_back(cut);
        } else if (named("loose ")) {
            const auto words = destination_words();
            const auto to =
                std::find_if(words.begin(), words.end(), [&](const auto& w) { return w.first == rest("loose "); });
            if (to == words.end())
                throw invalid_input('[' + name + ']', '"' + rest("loose ") + '"',
                                    "loose strips, dice, grind, rendering or discard");
            loose_cut loose{.goes_to = to->second, .trim = read_trim(in)};
            loose.least_thickness = in.optional<length>("least thickness", loose.least_thickness);
            sheet.rules.loose.push_back(loose);
        } else if (name == "worth") {
            for (const destination d : all_destinations)
                sheet.prices.by_products[d] = in.optional<unit_price<C>>(std::string(name_of(d)), {});
        } else if (named("compare ")) {
            ready_cut<C> other{.name = rest("compare ")};
            other.price = in.required<unit_price<C>>("price", "the ready-cut price per weight");
            const std::string list = in.text("replaces");
            for (std::size_t at = 0; at < list.size();) {
                const std::size_t comma = std::min(list.find(',', at), list.size());
                const std::size_t first = list.find_first_not_of(' ', at);
                const std::size_t last = list.find_last_not_of(" ,", comma == list.size() ? comma : comma - 1);
                if (first < comma) other.replaces.push_back(list.substr(first, last - first + 1));
                at = comma + 1;
            }
            sheet.alternatives.push_back(other);
        } else {
            throw invalid_input(
                '[' + name + ']', "a section that has no meaning here",
                "one of sheet, loin, station ..., cutting, trim, cut ..., loose ..., worth, compare ...");
        }
        in.finish();
    }
    if (sheet.rules.loose.empty()) sheet.rules.loose.push_back(loose_cut{});
    check_as_a_whole(sheet, stations);
    return sheet;
}

/// The loin of the sheet, calibrated to the scale on the sheet's grid.
template <currency C>
[[nodiscard]] calibrated_loin<measured_loin> weighed_loin(const cut_sheet<C>& sheet) {
    try {
        return calibrated(sheet.loin, sheet.board_weight, sheet.grid);
    } catch (const invalid_input& error) {
        const bool scale = error.field() == "scale weight";
        throw invalid_input(scale ? "[loin] weight on the board" : "[cutting] grid", error.value(), error.expected());
    }
}

/// The loin of the sheet, calibrated and tabulated on its grid.
template <currency C>
[[nodiscard]] profile tabulated(const cut_sheet<C>& sheet) {
    return tabulate(weighed_loin(sheet), sheet.grid);
}

/// The currency that a sheet is written in.
[[nodiscard]] inline std::string currency_code(const sheet_sections& sections) {
    sheet_section in("sheet", section_named(sections, "sheet"));
    return in.required_text("currency", "an ISO 4217 code such as USD");
}

} // namespace example
