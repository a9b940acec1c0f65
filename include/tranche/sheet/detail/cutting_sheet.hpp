// What a cut sheet says of the loin and of cutting it, whatever the currency.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/tranche.hpp>

#include <tranche/sheet/detail/sheet_section.hpp>

namespace tranche::detail {

enum class aim { most_portions, least_waste, best_value, least_giveaway, even_portions, fewest_settings };

[[nodiscard]] inline std::vector<std::pair<std::string_view, aim>> aim_words() {
    return {{"most portions", aim::most_portions}, {"least waste", aim::least_waste},
            {"best value", aim::best_value},       {"least giveaway", aim::least_giveaway},
            {"even portions", aim::even_portions}, {"fewest settings", aim::fewest_settings}};
}

struct cutting_sheet {
    std::string title;
    kitchen_units units = us_kitchen;
    measured_loin loin;
    mass board_weight{}; ///< what the scale says once the loin is unpacked
    length grid = default_step;
    std::string grid_as;     ///< as it was written
    std::string weighed_key; ///< the key that says what is on the board
    std::string weighed_as;  ///< as it was written
    aim plan_for = aim::best_value;
    std::vector<cut_spec> cuts;
    cutting_rules rules;
    std::vector<demand> demands;
    charged_weights charged;              ///< for the least giveaway; others at their lower limit
    std::optional<std::int64_t> portions; ///< for even portions: how many in all

    [[nodiscard]] cutting_request request() const { return {.cuts = cuts, .rules = rules, .demands = demands}; }
};

inline constexpr int most_portions_asked_for = 10'000;

[[nodiscard]] inline std::vector<std::pair<std::string_view, destination>> destination_words() {
    std::vector<std::pair<std::string_view, destination>> words;
    for (const destination d : all_destinations) words.emplace_back(name_of(d), d);
    return words;
}

/// A length, or two of them: "3 in to 2 in".
[[nodiscard]] inline tail_limit read_tail(const sheet_section& in) {
    const std::string text = in.text("tail"), between = " to ";
    const auto to = text.find(between);
    if (to == std::string::npos) return in.optional<length>("tail", unlimited<length>());
    const auto end = [&](const std::string& part) { return from_text<length>(part, in.field("tail")); };
    return {end(text.substr(0, to)), end(text.substr(to + between.size()))};
}

[[nodiscard]] inline trim_spec read_trim(sheet_section& in) {
    const trim_spec trim{.fat_cover = in.optional<length>("fat cover", unlimited<length>()),
                         .tail = read_tail(in),
                         .silverskin = in.choice<bool>("silverskin", {{"on", true}, {"off", false}}, true),
                         .over_cut = in.optional<length>("over-cut", length{})};
    in.checked({{"fat_cover", "fat cover"}, {"tail", "tail"}, {"over_cut", "over-cut"}}, [&] { validate(trim, ""); });
    return trim;
}

[[nodiscard]] inline gluteus_medius_rule read_gluteus_medius_rule(sheet_section& in) {
    const std::string key = "gluteus medius", value = in.text(key);
    const char* const expected = "one of none, one face, any, or up to a share such as 20 %";
    if (value.empty() || value == "one face") return on_one_face;
    if (value == "none") return no_gluteus_medius;
    if (value == "any") return any_gluteus_medius;
    if (!value.starts_with("up to ")) in.refuse(key, expected);
    const fraction share = from_text<fraction>(trimmed(std::string_view(value).substr(6)), in.field(key));
    if (!(share >= 0.0 && share <= 1.0)) in.refuse(key, "a share of at most 100 %");
    return gluteus_medius_up_to(share);
}

/// Reads the sections about loin and cuts one by one into a `cutting_sheet`, then checks it as a whole.
class cutting_reader {
public:
    explicit cutting_reader(cutting_sheet& into) : sheet_(into) { sheet_.rules.loose.clear(); }

    /// False for a section that is not about loin or cuts. Prices in these sections are left to others.
    bool read(sheet_section& in) {
        const std::string& name = in.name();
        const auto is = [&](std::string_view kind) { return name.size() > kind.size() && name.starts_with(kind); };
        if (name == "sheet")
            heading(in);
        else if (name == "loin")
            loin(in);
        else if (is("station "))
            station_of(in);
        else if (name == "cutting")
            cutting(in);
        else if (name == "trim")
            trim(in);
        else if (name == "trim whole")
            sheet_.rules.trim_whole = read_trim(in);
        else if (is("cut "))
            cut(in, trimmed(name.substr(4)));
        else if (is("loose "))
            loose(in, trimmed(name.substr(6)));
        else
            return false;
        return true;
    }

    /// What can only be judged once all of the sheet is read.
    void finish(const sheet_sections& sections) {
        if (sheet_.rules.loose.empty()) sheet_.rules.loose.push_back(loose_cut{});
        if (sheet_.cuts.empty()) throw invalid_input("[cut ...]", "no such section", "at least one");
        if (sheet_.loin.stations.empty()) throw invalid_input("[station ...]", "no such section", "at least one");
        std::size_t station_number = 0, cut_number = 0;
        for (const auto& section : sections) {
            const sheet_section in(section.first, section.second);
            if (section.first.starts_with("station ") && sheet_.loin.stations[station_number++].at > sheet_.loin.length)
                in.refuse("at", sentence("at most the length, ") + rounded_down(sheet_.loin.length));
            if (section.first.starts_with("cut ")) check(in, sheet_.cuts[cut_number++]);
        }
        sheet_.units = units_of(sections);
        const sheet_section loin("loin", section_named(sections, "loin"));
        loin.checked({{"gluteus_medius.onset", "gluteus medius from"},
                      {"gluteus_medius.share_at_end", "gluteus medius share"},
                      {"fat_cover", "silverskin"}},
                     [&] { validate(sheet_.loin); });
        const sheet_section cutting("cutting", section_named(sections, "cutting"));
        cutting.checked({{"facing", "facing"}}, [&] { validate(sheet_.rules, sheet_.loin.length); });
        cutting.checked({{"order", "order"}}, [&] { validate(sheet_.rules.order, sheet_.cuts); });
    }

private:
    void heading(sheet_section& in) {
        sheet_.title = in.text("title");
        (void)in.text("currency");
    }

    void loin(sheet_section& in) {
        const mass invoiced = in.required<mass>("weight", "the invoiced weight, such as 12 lb 2 oz");
        in.checked({{"weight", "weight"}}, [&] { require_positive(invoiced, "weight"); });
        sheet_.board_weight = in.optional<mass>("weight on the board", invoiced);
        sheet_.weighed_key = in.has("weight on the board") ? "weight on the board" : "weight";
        sheet_.weighed_as = in.text(sheet_.weighed_key);
        sheet_.loin.length = in.required<length>("length", "the length as it lies, such as 16 1/2 in");
        sheet_.loin.shape.silverskin = in.optional<length>("silverskin", length{});
        sheet_.loin.shape.fill = in.optional<fraction>("fill", sheet_.loin.shape.fill);
        auto& muscle = sheet_.loin.gluteus_medius;
        if (in.has("gluteus medius from") && !in.has("gluteus medius share"))
            in.refuse("gluteus medius share", "its share of the lean on the sirloin face, such as 30 %");
        if (in.has("gluteus medius share") && !in.has("gluteus medius from"))
            in.refuse("gluteus medius from", "where it enters, such as 13 1/4 in");
        muscle.onset = in.optional<length>("gluteus medius from", muscle.onset);
        muscle.share_at_end = in.optional<fraction>("gluteus medius share", muscle.share_at_end);
        in.checked({{"length", "length"}}, [&] { require_positive(sheet_.loin.length, "length"); });
        in.checked({{"fill", "fill"}, {"silverskin", "silverskin"}}, [&] { validate(sheet_.loin.shape); });
        in.checked({{"board", "weight on the board"}}, [&] { require_positive(sheet_.board_weight, "board"); });
        if (!(sheet_.board_weight <= invoiced))
            in.refuse("weight on the board", sentence("at most the invoiced weight, ") + rounded_down(invoiced));
    }

    void station_of(sheet_section& in) {
        const std::string reading = "a reading such as 8 1/4 in";
        const station s{.at = in.required<length>("at", "the distance from the rib face"),
                        .width = in.required<length>("width", reading),
                        .depth = in.required<length>("depth", reading),
                        .fat_cover = in.optional<length>("fat cover", length{}),
                        .tail = in.optional<length>("tail", length{})};
        in.checked({{"width", "width"}, {"depth", "depth"}, {"fat_cover", "fat cover"}, {"tail", "tail"}}, [&] {
            validate({.width = s.width, .depth = s.depth, .fat_cover = s.fat_cover, .tail = s.tail}, face_shape{}, "");
        });
        auto& stations = sheet_.loin.stations;
        in.checked({{"at", "at"}}, [&] { require_not_negative(s.at, "at"); });
        if (!stations.empty() && !(s.at > stations.back().at))
            in.refuse("at", sentence("more than at the station before it, ") + rounded_up(stations.back().at));
        stations.push_back(s);
    }

    void cutting(sheet_section& in) {
        sheet_.plan_for = in.choice<aim>("plan for", aim_words(), aim::best_value);
        if (in.has("portions")) sheet_.portions = in.whole_number("portions", 1, 1, most_portions_asked_for);
        sheet_.rules.facing = in.optional<length>("facing", length{});
        sheet_.rules.facing_goes_to = in.choice("facing goes to", destination_words(), sheet_.rules.facing_goes_to);
        sheet_.grid = in.optional<length>("grid", default_step);
        sheet_.grid_as = in.has("grid") ? in.text("grid") : shown(default_step);
        in.checked({{"grid", "grid"}}, [&] { require_positive(sheet_.grid, "grid"); });
        auto& remnant = sheet_.rules.remnant;
        remnant.thickness = in.optional<length>("least remnant", length{});
        remnant.weight = in.optional<mass>("least remnant weight", mass{});
        in.checked({{"least remnant", "least remnant"}},
                   [&] { require_not_negative(remnant.thickness, "least remnant"); });
        in.checked({{"weight", "least remnant weight"}}, [&] { require_not_negative(remnant.weight, "weight"); });
        std::vector<std::string> before;
        for (const std::string& name : listed(in.text("order"))) {
            for (const std::string& first : before) sheet_.rules.order.push_back({first, name});
            before.push_back(name);
        }
        if (in.has("order") && sheet_.rules.order.empty())
            in.refuse("order", "names of two cuts or more, from the rib on");
    }

    void trim(sheet_section& in) {
        auto& to = sheet_.rules.trim_goes_to;
        to[tissue::fat_cover] = in.choice("fat cover", destination_words(), to[tissue::fat_cover]);
        to[tissue::tail] = in.choice("tail", destination_words(), to[tissue::tail]);
        to[tissue::connective] = in.choice("silverskin", destination_words(), to[tissue::connective]);
    }

    void cut(sheet_section& in, const std::string& name) {
        cut_spec spec{.name = name};
        (void)in.required_text("thickness", "a thickness such as 1 1/8 in to 1 1/2 in");
        spec.thickness = in.limits<length>("thickness");
        if (!(spec.thickness.min > length{})) in.refuse("thickness", "a lower limit above zero");
        spec.portion = in.limits<mass>("portion");
        spec.pieces = in.whole_number("pieces", 1, 1, 100);
        spec.trim = read_trim(in);
        spec.gluteus_medius = read_gluteus_medius_rule(in);
        spec.kerf = in.optional<length>("kerf", length{});
        spec.zone = in.limits<length>("zone");
        spec.thickness_step = in.optional<length>("thickness step", length{});
        spec.one_thickness = in.choice<bool>("one thickness", {{"yes", true}, {"no", false}}, false);
        in.checked({{"thickness.min", "thickness"},
                    {"thickness.max", "thickness"},
                    {"portion.min", "portion"},
                    {"portion.max", "portion"},
                    {"kerf", "kerf"},
                    {"zone.min", "zone"},
                    {"zone.max", "zone"},
                    {"thickness_step", "thickness step"}},
                   [&] { validate(spec); });
        sheet_.cuts.push_back(spec);
        if (const auto [least, most] = in.whole_limits("number", most_portions_asked_for); in.has("number"))
            sheet_.demands.push_back(
                {.spec = name, .at_least = least, .at_most = most ? std::int64_t{*most} : demand::any_number});
        const mass charge = in.optional<mass>("charged as", mass{});
        if (!in.has("charged as")) return;
        in.checked({{"charged as", "charged as"}}, [&] { require_positive(charge, "charged as"); });
        sheet_.charged[name] = charge;
    }

    void loose(sheet_section& in, const std::string& name) {
        const auto words = destination_words();
        const auto to = std::find_if(words.begin(), words.end(), [&](const auto& w) { return w.first == name; });
        if (to == words.end())
            throw invalid_input('[' + in.name() + ']', '"' + name + '"',
                                "loose strips, dice, grind, rendering or discard");
        loose_cut use{.goes_to = to->second, .trim = read_trim(in)};
        use.least_thickness = in.optional<length>("least thickness", use.least_thickness);
        in.checked({{"least", "least thickness"}}, [&] { require_not_negative(use.least_thickness, "least"); });
        sheet_.rules.loose.push_back(use);
    }

    void check(const sheet_section& in, const cut_spec& cut) const {
        const double notches = cut.thickness_step / sheet_.grid; // the grid is the sheet's, so this can be said here
        if (std::abs(notches - std::round(notches)) > 1e-6)
            in.refuse("thickness step", "a whole multiple of the grid, " + sheet_.grid_as);
        const bool numbers = sheet_.plan_for != aim::even_portions && sheet_.plan_for != aim::fewest_settings;
        if (in.has("number") && !numbers)
            in.refuse("number", "none: plans for even portions and for fewest settings do not take it");
        if (sheet_.plan_for == aim::least_giveaway && !in.has("charged as") && !(cut.portion.min > mass{}))
            in.refuse("charged as", "a weight, or a portion with a lower limit: the plan is for least giveaway");
    }

    cutting_sheet& sheet_;
};

/// The loin of the sheet, calibrated to the scale on the sheet's grid.
[[nodiscard]] inline calibrated_loin<measured_loin> weighed_loin(const cutting_sheet& sheet) {
    try {
        return calibrate(sheet.loin, sheet.board_weight, sheet.grid);
    } catch (const invalid_input& error) {
        const bool scale = error.field() == "scale weight";
        if (scale)
            throw invalid_input("[loin] " + sheet.weighed_key, '"' + sheet.weighed_as + '"', error.expected_words());
        throw invalid_input("[cutting] grid", '"' + sheet.grid_as + '"', error.expected_words());
    }
}

/// The loin of the sheet, calibrated and tabulated on its grid.
[[nodiscard]] inline profile tabulated(const cutting_sheet& sheet) { return tabulate(weighed_loin(sheet), sheet.grid); }

} // namespace tranche::detail
