// What a cut sheet says of loins and of cutting them: one description of its keys for reading, writing and explaining.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/sheet/detail/document/field_visitor.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

inline constexpr std::int64_t most_portions_asked_for = 10'000;

template <class = when_called>
[[nodiscard]] choices<sheet_aim> aim_words() {
    return {{"best value", sheet_aim::best_value},       {"most portions", sheet_aim::most_portions},
            {"least waste", sheet_aim::least_waste},     {"least giveaway", sheet_aim::least_giveaway},
            {"even portions", sheet_aim::even_portions}, {"fewest settings", sheet_aim::fewest_settings}};
}
template <class = when_called>
[[nodiscard]] choices<destination> destination_words() {
    choices<destination> words;
    for (const destination d : all_destinations) words.emplace_back(name_of(d), d);
    return words;
}

template <class = when_called>
TRANCHE_COLD void share_field(field_visitor& io, std::string_view key, fraction& of, fraction otherwise) {
    io.value(key, of, otherwise);
    io.check({{"", std::string(key)}}, [&] { require_share(of, ""); });
}
template <class = when_called>
TRANCHE_COLD void share_field(field_visitor& io, std::string_view key, std::optional<fraction>& of) {
    io.value(key, of);
    io.check({{"", std::string(key)}}, [&] {
        if (of) require_share(*of, "");
    });
}

/// "3 in", or "3 in to 2 in" from the rib end to the sirloin end.
template <class = when_called>
TRANCHE_COLD void tail_field(field_visitor& io, tail_limit& tail) {
    io.field(
        "tail", field_form::text, "",
        [&](const sheet_entry& e) {
            const auto [rib, sirloin] = limit_texts(e.text, e.place, "a length, or two such as 3 in to 2 in");
            if (rib.empty() || sirloin.empty()) refuse_entry(e, "a length, or two such as 3 in to 2 in");
            tail = {value_of<length>(io, e, rib), value_of<length>(io, e, sirloin)};
        },
        [&]() -> std::vector<std::string> {
            if (tail == tail_limit{}) return {};
            const std::string rib = exact_text(tail.at_rib(), io.units(), true);
            if (tail.at_rib() == tail.at_sirloin()) return {rib};
            return {rib + " to " + exact_text(tail.at_sirloin(), io.units(), true)};
        });
}
/// What stays. `always` writes a key even if everything does.
template <class = when_called>
TRANCHE_COLD void trim_fields(field_visitor& io, trim_spec& trim, bool always = false) {
    io.value("fat cover", trim.fat_cover, unlimited<length>());
    tail_field(io, trim.tail);
    io.yes_or_no("silverskin", trim.silverskin, always ? std::nullopt : std::optional(true), true);
    io.value("over-cut", trim.over_cut);
    io.check({{"fat_cover", "fat cover"}, {"tail", "tail"}, {"over_cut", "over-cut"}}, [&] { validate(trim, ""); });
}

template <class = when_called>
TRANCHE_COLD void gluteus_medius_limit(field_visitor& io, gluteus_medius_rule& rule) {
    io.field(
        "gluteus medius", field_form::text, "",
        [&](const sheet_entry& e) {
            const std::string plain = plain_key(e.text);
            if (plain == "one face") return void(rule = on_one_face);
            if (plain == "none") return void(rule = no_gluteus_medius);
            if (plain == "any") return void(rule = any_gluteus_medius);
            constexpr std::string_view up_to = "up to ", between = " and ";
            if (!plain.starts_with(up_to)) refuse_entry(e, "one of none, one face, any, or up to a share such as 20 %");
            const auto shared = [&](std::string_view text) {
                const auto of = value_of<fraction>(io, e, trimmed(text));
                if (!(of >= 0.0 && of <= 1.0)) refuse_entry(e, "a share of at most 100 %");
                return of;
            };
            const std::string_view shares = std::string_view(plain).substr(up_to.size());
            const auto at = shares.find(between);
            rule.towards_rib = shared(shares.substr(0, at));
            rule.towards_sirloin =
                at == std::string_view::npos ? rule.towards_rib : shared(shares.substr(at + between.size()));
        },
        [&]() -> std::vector<std::string> {
            if (rule == on_one_face) return {};
            if (rule == no_gluteus_medius) return {"none"};
            if (rule == any_gluteus_medius) return {"any"};
            const std::string rib = "up to " + exact_text(rule.towards_rib, io.units());
            if (rule.towards_rib == rule.towards_sirloin) return {rib};
            return {rib + " and " + exact_text(rule.towards_sirloin, io.units())};
        });
}

/// How many: "6" and "exactly 6", "2 to 6", "at least 2", "at most 6".
template <class = when_called>
TRANCHE_COLD void number_wanted(field_visitor& io, std::optional<std::int64_t>& least,
                                std::optional<std::int64_t>& most, const std::string& required = "") {
    io.field(
        "number", field_form::whole_number, required,
        [&](const sheet_entry& e) {
            const std::string expected = "a whole number up to " + std::to_string(most_portions_asked_for) +
                                         ", A to B, exactly A, at least A or at most B";
            const auto [low, high] = limit_texts(e.text, e.place, expected);
            const auto number = [&](const std::string& text) -> std::optional<std::int64_t> {
                if (text.empty()) return std::nullopt;
                const auto whole = whole_number_of<std::int64_t>(trimmed(text));
                if (!whole || *whole < 0 || *whole > most_portions_asked_for) refuse_entry(e, expected);
                return whole;
            };
            least = number(low);
            most = number(high);
            if (!least && !most) refuse_entry(e, expected);
            if (least && most && *most < *least) refuse_entry(e, "an upper number that is not below the lower one");
        },
        [&]() -> std::vector<std::string> {
            if (least && most && *least == *most) return {std::to_string(*least)};
            if (least && most) return {std::to_string(*least) + " to " + std::to_string(*most)};
            if (least) return {"at least " + std::to_string(*least)};
            if (most) return {"at most " + std::to_string(*most)};
            return {};
        });
}

template <class = when_called>
TRANCHE_COLD void sheet_fields(field_visitor& io, cut_sheet& sheet) {
    io.words("title", sheet.title);
    io.field(
        "currency", field_form::text, "",
        [&](const sheet_entry& e) {
            std::string code = e.text;
            for (char& c : code)
                if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
            io.check({{"", "currency"}}, [&] { sheet.currency = iso_currency_named(code); });
        },
        [&]() -> std::vector<std::string> {
            if (!sheet.currency) return {};
            return {sheet.currency->code};
        });
    io.choice<sheet_units>(
        "units", sheet.units,
        {{"us", sheet_units::us}, {"metric", sheet_units::metric}, {"decimal pounds", sheet_units::decimal_pounds}},
        std::nullopt);
    io.value("date", sheet.date);
    io.words("cutter", sheet.cutter);
}

template <class = when_called>
TRANCHE_COLD void loin_fields(field_visitor& io, sheet_loin& loin) {
    io.required_value("weight", loin.weight, "the invoiced weight, such as 12 lb 2 oz");
    io.check({{"", "weight"}}, [&] { require_positive(loin.weight, ""); });
    io.value("weight on the board", loin.on_the_board);
    io.check({{"", "weight on the board"}}, [&] {
        if (!loin.on_the_board) return;
        require_positive(*loin.on_the_board, "");
        if (!(*loin.on_the_board <= loin.weight))
            throw invalid_input("", *loin.on_the_board,
                                sentence("at most the invoiced weight, ") + rounded_down(loin.weight));
    });
    io.price("price", loin.price);
    io.value("length", loin.length);
    io.check({{"", "length"}}, [&] {
        if (loin.length) require_positive(*loin.length, "");
    });
    io.value("silverskin", loin.silverskin);
    io.value("fill", loin.fill);
    io.check({{"fill", "fill"}, {"silverskin", "silverskin"}}, [&] {
        face_shape shape;
        if (loin.fill) shape.fill = *loin.fill;
        if (loin.silverskin) shape.silverskin = *loin.silverskin;
        validate(shape);
    });
    std::optional<length> onset;
    std::optional<fraction> share_at_end;
    if (loin.gluteus_medius) {
        onset = loin.gluteus_medius->onset;
        share_at_end = loin.gluteus_medius->share_at_end;
    }
    io.value("gluteus medius from", onset);
    share_field(io, "gluteus medius share", share_at_end);
    io.check({{"share", "gluteus medius share"}, {"from", "gluteus medius from"}}, [&] {
        if (onset && !share_at_end)
            throw invalid_input("share", "nothing", "its share of the lean on the sirloin face, such as 30 %");
        if (share_at_end && !onset) throw invalid_input("from", "nothing", "where it enters, such as 13 1/4 in");
        if (onset) loin.gluteus_medius = {*onset, *share_at_end};
    });
    io.words("kind", loin.kind);
    io.words("lot", loin.lot);
    io.words("supplier", loin.supplier);
    io.value("temperature on arrival", loin.on_arrival);
}

template <class = when_called>
TRANCHE_COLD void station_fields(field_visitor& io, station& at) {
    const std::string reading = "a reading such as 8 1/4 in";
    io.required_value("at", at.at, "the distance from the rib face");
    io.check({{"", "at"}}, [&] { require_not_negative(at.at, ""); });
    io.required_value("width", at.width, reading);
    io.required_value("depth", at.depth, reading);
    io.value("fat cover", at.fat_cover);
    io.value("tail", at.tail);
    io.check({{"width", "width"}, {"depth", "depth"}, {"fat_cover", "fat cover"}, {"tail", "tail"}}, [&] {
        validate({.width = at.width, .depth = at.depth, .fat_cover = at.fat_cover, .tail = at.tail}, face_shape{}, "");
    });
}

template <class = when_called>
TRANCHE_COLD void cutting_fields(field_visitor& io, cut_sheet& sheet) {
    cutting_rules& rules = sheet.rules;
    io.choice<sheet_aim>("plan for", sheet.plan_for, aim_words(), std::nullopt);
    io.whole_number<std::int64_t>("portions", sheet.portions, 1, most_portions_asked_for);
    io.value("even within", sheet.even_within);
    io.check({{"", "even within"}}, [&] {
        if (sheet.even_within) require_not_negative(*sheet.even_within, "");
    });
    io.values("thicknesses", sheet.thicknesses);
    io.check({{"", "thicknesses"}}, [&] {
        for (const length& thickness : sheet.thicknesses) require_positive(thickness, "");
    });
    io.value("facing", rules.facing);
    io.choice<destination>("facing goes to", rules.facing_goes_to, destination_words(), destination::grind);
    io.value("grid", sheet.grid);
    io.check({{"", "grid"}}, [&] {
        if (sheet.grid) require_positive(*sheet.grid, "");
    });
    io.value("least remnant", rules.remnant.thickness);
    io.check({{"", "least remnant"}}, [&] { require_not_negative(rules.remnant.thickness, ""); });
    io.value("least remnant weight", rules.remnant.weight);
    io.check({{"", "least remnant weight"}}, [&] { require_not_negative(rules.remnant.weight, ""); });
    io.yes_or_no("remnant required", rules.remnant.required, false);
    io.values("cut at", rules.cut_at);
    io.values("kept whole", rules.kept_whole);
    std::vector<std::string> chain;
    for (const cut_order& o : rules.order) {
        if (chain.empty()) chain.push_back(o.first);
        if (o.first == chain.front()) chain.push_back(o.then);
    }
    io.names("order", chain);
    io.check({{"", "order"}}, [&] {
        if (io.has("order") && chain.size() < 2)
            throw invalid_input("", "", "names of two cuts or more, from the rib on");
        rules.order.clear();
        for (std::size_t then = 1; then < chain.size(); ++then)
            for (std::size_t first = 0; first < then; ++first) rules.order.push_back({chain[first], chain[then]});
    });
}

template <class = when_called>
TRANCHE_COLD void trim_goes_to_fields(field_visitor& io, by_tissue<destination>& to) {
    const by_tissue<destination> otherwise = cutting_rules{}.trim_goes_to;
    for (const auto& [key, t] : {std::pair("fat cover", tissue::fat_cover), std::pair("tail", tissue::tail),
                                 std::pair("silverskin", tissue::connective), std::pair("lean", tissue::eye)})
        io.choice<destination>(key, to[t], destination_words(), otherwise[t]);
}

template <class = when_called>
TRANCHE_COLD void cut_fields(field_visitor& io, sheet_cut& cut) {
    cut_spec& spec = cut.spec;
    io.field(
        "thickness", field_form::text, "",
        [&](const sheet_entry& e) {
            if (e.text.find(", ") != std::string::npos)
                refuse_entry(
                    e, "one thickness, or limits such as 1 in to 1 1/4 in; several to be compared side by side are "
                       "thicknesses in [cutting]");
            spec.thickness = value_of<quantity_range<length>>(io, e, e.text);
        },
        [&]() -> std::vector<std::string> {
            if (spec.thickness == quantity_range<length>{}) return {};
            return {exact_text(spec.thickness, io.units())};
        });
    io.value("portion", spec.portion);
    std::optional<int> pieces = spec.pieces == 1 ? std::nullopt : std::optional(spec.pieces);
    io.whole_number<int>("pieces", pieces, 1, 100);
    spec.pieces = pieces.value_or(1);
    trim_fields(io, spec.trim);
    gluteus_medius_limit(io, spec.gluteus_medius);
    io.value("kerf", spec.kerf);
    io.value("zone", spec.zone);
    io.value("thickness step", spec.thickness_step);
    io.yes_or_no("one thickness", spec.one_thickness, false);
    number_wanted(io, cut.at_least, cut.at_most);
    io.value("charged as", cut.charged_as);
    io.check({{"", "charged as"}}, [&] {
        if (cut.charged_as) require_positive(*cut.charged_as, "");
    });
    io.price("price", cut.price);
    io.price("price each", cut.price_each);
}

template <class = when_called>
TRANCHE_COLD void loose_fields(field_visitor& io, loose_cut& use) {
    trim_fields(io, use.trim);
    io.value("least thickness", use.least_thickness, loose_cut{}.least_thickness);
    io.check({{"", "least thickness"}}, [&] { require_not_negative(use.least_thickness, ""); });
    io.choice<loose_place>(
        "place", use.place,
        {{"anywhere", loose_place::anywhere}, {"ends", loose_place::ends}, {"nowhere", loose_place::nowhere}},
        loose_place::anywhere);
    io.value("zone", use.zone);
    io.check({{"", "zone"}}, [&] { require_range(use.zone, ""); });
}

} // namespace tranche::detail
