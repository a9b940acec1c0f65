// A cut sheet: an INI file in which a person writes down a loin, what may be cut from it, prices and alternatives.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/tranche.hpp>

#include "sheet_section.hpp"

namespace example {

enum class aim { most_portions, least_waste, best_value };

/// Ready-cut meat, and how it looks in the case if that is said.
template <currency C>
struct alternative {
    ready_cut<C> ready{};
    std::optional<ready_cut_look> look{};
};

/// Another loin, or something else, that could be bought.
template <currency C>
struct sheet_offer {
    std::string name{};
    purchase<C> bought{};
    fraction yield = 0.0, edible_share = 1.0;
    unit_price<C> rest{};
    duration time{};
};

/// Everything that a sheet says, in the units of the library.
template <currency C>
struct cut_sheet {
    std::string title;
    kitchen_units units = us_kitchen;
    measured_loin loin;
    mass board_weight{}; ///< what the scale says once the loin is unpacked
    purchase<C> bought;
    length grid = default_step;
    std::string weighed_as, grid_as; ///< board weight and grid as they were written
    aim plan_for = aim::best_value;
    std::vector<cut_spec> cuts;
    cutting_rules rules;
    price_list<C> prices;
    std::vector<alternative<C>> alternatives;
    edible_basis basis;
    cutting_costs<C> costs;
    std::vector<sheet_offer<C>> offers;
};

[[nodiscard]] inline std::vector<std::pair<std::string_view, destination>> destination_words() {
    std::vector<std::pair<std::string_view, destination>> words;
    for (const destination d : all_destinations) words.emplace_back(name_of(d), d);
    return words;
}

[[nodiscard]] inline trim_spec read_trim(sheet_section& in) {
    const trim_spec trim{.fat_cover = in.optional<length>("fat cover", unlimited<length>()),
                         .tail = in.optional<length>("tail", unlimited<length>()),
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

/// Reads the sections of a sheet one by one into a `cut_sheet`, then checks it as a whole.
template <currency C>
class sheet_reader {
public:
    explicit sheet_reader(const sheet_sections& sections) {
        for (const char* required : {"sheet", "loin", "cutting"}) (void)section_named(sections, required);
        sheet_.rules.loose.clear();
        for (const auto& section : sections) {
            sheet_section in(section.first, section.second);
            read(in);
            in.finish();
        }
        if (sheet_.rules.loose.empty()) sheet_.rules.loose.push_back(loose_cut{});
        check(sections);
    }
    [[nodiscard]] cut_sheet<C> result() && { return std::move(sheet_); }

private:
    void read(sheet_section& in) {
        const std::string& name = in.name();
        const auto is = [&](std::string_view kind) { return name.size() > kind.size() && name.starts_with(kind); };
        if (name == "sheet") return heading(in);
        if (name == "loin") return loin(in);
        if (is("station ")) return station_of(in);
        if (name == "cutting") return cutting(in);
        if (name == "trim") return trim(in);
        if (name == "trim whole") return void(sheet_.rules.trim_whole = read_trim(in));
        if (is("cut ")) return cut(in, trimmed(name.substr(4)));
        if (is("loose ")) return loose(in, trimmed(name.substr(6)));
        if (name == "worth") return worth(in);
        if (name == "labour") return labour(in);
        if (name == "edible") return edible(in);
        if (name == "costs") return costs(in);
        if (is("compare ")) return compare(in, trimmed(name.substr(8)));
        if (is("offer ")) return offered(in, trimmed(name.substr(6)));
        throw invalid_input('[' + name + ']', "a section that has no meaning here",
                            "one of sheet, loin, station ..., cutting, trim, trim whole, cut ..., loose ..., worth, "
                            "labour, edible, costs, compare ..., offer ...");
    }

    void heading(sheet_section& in) {
        sheet_.title = in.text("title");
        (void)in.text("currency");
        sheet_.units = in.choice<kitchen_units>("units", {{"us", us_kitchen}, {"metric", metric_kitchen}}, us_kitchen);
    }

    void loin(sheet_section& in) {
        sheet_.bought.weight = in.required<mass>("weight", "the invoiced weight, such as 12 lb 2 oz");
        sheet_.board_weight = in.optional<mass>("weight on the board", sheet_.bought.weight);
        sheet_.weighed_as = in.text(in.has("weight on the board") ? "weight on the board" : "weight");
        const std::string price = "the price paid, such as 8.10 " + std::string(C::code) + "/lb";
        (void)in.required_text("price", price);
        sheet_.bought.price = in.monetary<unit_price<C>>("price");
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
        in.checked({{"purchase.weight", "weight"}}, [&] { validate(sheet_.bought); });
        in.checked({{"length", "length"}}, [&] { require_positive(sheet_.loin.length, "length"); });
        in.checked({{"fill", "fill"}, {"silverskin", "silverskin"}}, [&] { validate(sheet_.loin.shape); });
        in.checked({{"board", "weight on the board"}}, [&] { require_positive(sheet_.board_weight, "board"); });
        if (!(sheet_.board_weight <= sheet_.bought.weight))
            in.refuse("weight on the board", "at most the invoiced weight, " + shown(sheet_.bought.weight));
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
            in.refuse("at", "more than at the station before it, " + shown(stations.back().at));
        stations.push_back(s);
    }

    void cutting(sheet_section& in) {
        sheet_.plan_for = in.choice<aim>(
            "plan for",
            {{"most portions", aim::most_portions}, {"least waste", aim::least_waste}, {"best value", aim::best_value}},
            aim::best_value);
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

    void labour(sheet_section& in) {
        sheet_.prices.labour = {.slab = in.monetary<money<C>>("slab"),
                                .portion = in.monetary<money<C>>("portion"),
                                .trimmed = in.monetary<money<C>>("trimmed portion")};
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
        const bool priced = in.has("price") || in.has("price each");
        const portion_price<C> price{.by_weight = in.monetary<unit_price<C>>("price"),
                                     .each = in.monetary<money<C>>("price each")};
        if (priced) sheet_.prices.portions[name] = price;
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

    void worth(sheet_section& in) {
        for (const destination d : all_destinations)
            sheet_.prices.by_products[d] = in.monetary<unit_price<C>>(std::string(name_of(d)), true);
    }

    void edible(sheet_section& in) {
        auto& counts = sheet_.basis.counts;
        for (const auto& [key, t] :
             {std::pair("gluteus medius", tissue::gluteus_medius), std::pair("fat cover", tissue::fat_cover),
              std::pair("tail", tissue::tail), std::pair("silverskin", tissue::connective)})
            counts[t] = share(in, key, counts[t]);
    }

    void costs(sheet_section& in) {
        auto& costs = sheet_.costs;
        costs.time = in.optional<duration>("time", duration{});
        costs.pay = in.monetary<wage<C>>("wage");
        costs.packaging = in.monetary<money<C>>("packaging each");
        costs.freezing = in.monetary<unit_price<C>>("freezing");
        costs.frozen = share(in, "frozen", 1.0);
        costs.knife_wear = in.monetary<money<C>>("knife wear");
        in.checked({{"time (h)", "time"}}, [&] { validate(costs); });
    }

    void compare(sheet_section& in, const std::string& name) {
        (void)in.required_text("price", "the ready-cut price per weight");
        alternative<C> other{.ready = {.name = name, .price = in.monetary<unit_price<C>>("price")}};
        other.ready.replaces = listed(in.text("replaces"));
        if (in.has("replaces") && other.ready.replaces.empty()) in.refuse("replaces", "names of cuts in the sheet");
        const bool looks = in.has("fat cover") || in.has("tail") || in.has("silverskin") || in.has("gluteus medius");
        if (in.has("edible share")) {
            if (looks)
                in.refuse("edible share", "either that share, or fat cover, tail, silverskin and gluteus medius");
            other.ready.edible_share = edible_share_in(in);
        }
        ready_cut_look look{.trim = read_trim(in)};
        if (in.has("gluteus medius")) look.gluteus_medius = share(in, "gluteus medius", 0.0);
        if (looks) other.look = look;
        sheet_.alternatives.push_back(other);
    }

    void offered(sheet_section& in, const std::string& name) {
        const std::string price = "the price per weight";
        (void)in.required_text("price", price);
        sheet_offer<C> other{.name = name};
        other.bought = {.weight = in.required<mass>("weight", "the weight on offer, such as 12 lb"),
                        .price = in.monetary<unit_price<C>>("price")};
        other.yield = in.required<fraction>("yield", "portions out of that weight, such as 70 %");
        if (!(other.yield > 0.0 && other.yield <= 1.0)) in.refuse("yield", "a share above zero, at most 100 %");
        if (in.has("edible share")) other.edible_share = edible_share_in(in);
        other.rest = in.monetary<unit_price<C>>("rest is worth", true);
        other.time = in.optional<duration>("time", duration{});
        in.checked({{"weight", "weight"}}, [&] { require_positive(other.bought.weight, "weight"); });
        in.checked({{"time", "time"}}, [&] { require_not_negative(other.time / minute, "time"); });
        sheet_.offers.push_back(other);
    }

    [[nodiscard]] static fraction share(sheet_section& in, const std::string& key, fraction otherwise) {
        const auto value = in.optional<fraction>(key, otherwise);
        if (!(value >= 0.0 && value <= 1.0)) in.refuse(key, "a share of at most 100 %");
        return value;
    }
    [[nodiscard]] static fraction edible_share_in(sheet_section& in) {
        const fraction value = share(in, "edible share", 1.0);
        if (!(value > 0.0)) in.refuse("edible share", "a share above zero");
        return value;
    }

    /// What can only be judged once all of the sheet is read.
    void check(const sheet_sections& sections) {
        if (sheet_.cuts.empty()) throw invalid_input("[cut ...]", "no such section", "at least one");
        if (sheet_.loin.stations.empty()) throw invalid_input("[station ...]", "no such section", "at least one");
        const sheet_section loin("loin", section_named(sections, "loin"));
        std::size_t station_number = 0;
        for (const auto& section : sections) {
            const sheet_section in(section.first, section.second);
            if (section.first.starts_with("station ") && sheet_.loin.stations[station_number++].at > sheet_.loin.length)
                in.refuse("at", "at most the length, " + shown(sheet_.loin.length));
            if (section.first.starts_with("cut ") && sheet_.plan_for == aim::best_value &&
                !sheet_.prices.portions.contains(trimmed(section.first.substr(4))))
                in.refuse("price", "a price, or a price each: the plan is for best value");
            if (section.first.starts_with("cut "))
                for (const cut_spec& cut : sheet_.cuts) // the grid is the sheet's, so this can be said here
                    if (const double notches = cut.thickness_step / sheet_.grid;
                        cut.name == trimmed(section.first.substr(4)) && std::abs(notches - std::round(notches)) > 1e-6)
                        in.refuse("thickness step", "a whole multiple of the grid, " + sheet_.grid_as);
            if (section.first.starts_with("compare "))
                for (const std::string& name : listed(in.has("replaces") ? sheet_section(in).text("replaces") : ""))
                    if (std::none_of(sheet_.cuts.begin(), sheet_.cuts.end(),
                                     [&](const cut_spec& c) { return c.name == name; }))
                        throw invalid_input(in.field("replaces"), '"' + name + '"', "names of cuts in the sheet");
        }
        loin.checked({{"gluteus_medius.onset", "gluteus medius from"},
                      {"gluteus_medius.share_at_end", "gluteus medius share"},
                      {"fat_cover", "silverskin"}},
                     [&] { validate(sheet_.loin); });
        sheet_section("cutting", section_named(sections, "cutting")).checked({{"facing", "facing"}}, [&] {
            validate(sheet_.rules, sheet_.loin.length);
        });
        sheet_section("cutting", section_named(sections, "cutting")).checked({{"order", "order"}}, [&] {
            validate(sheet_.rules.order, sheet_.cuts);
        });
    }

    cut_sheet<C> sheet_;
};

/// Reads a whole sheet in currency C. Throws `invalid_input` with section and key as its field.
template <currency C>
[[nodiscard]] cut_sheet<C> read_cut_sheet(const sheet_sections& sections) {
    return sheet_reader<C>(sections).result();
}

/// The loin of the sheet, calibrated to the scale on the sheet's grid.
template <currency C>
[[nodiscard]] calibrated_loin<measured_loin> weighed_loin(const cut_sheet<C>& sheet) {
    try {
        return calibrated(sheet.loin, sheet.board_weight, sheet.grid);
    } catch (const invalid_input& error) {
        const bool scale = error.field() == "scale weight";
        if (scale) throw invalid_input("[loin] weight on the board", '"' + sheet.weighed_as + '"', error.expected());
        throw invalid_input("[cutting] grid", '"' + sheet.grid_as + '"', error.expected());
    }
}

/// The loin of the sheet, calibrated and tabulated on its grid.
template <currency C>
[[nodiscard]] profile tabulated(const cut_sheet<C>& sheet) {
    return tabulate(weighed_loin(sheet), sheet.grid);
}

/// Calls f(C{}) for the currency that a sheet is written in.
template <class F>
decltype(auto) in_currency_of(const sheet_sections& sections, F&& f) {
    sheet_section in("sheet", section_named(sections, "sheet"));
    const std::string code = in.required_text("currency", "an ISO 4217 code such as USD");
    in.checked({{"currency", "currency"}}, [&] { with_currency(code, [](auto) {}); });
    return with_currency(code, std::forward<F>(f));
}

} // namespace example
