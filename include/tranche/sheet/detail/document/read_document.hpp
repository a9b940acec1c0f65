// A cut sheet out of its sections: what they say one by one, then what can only be judged once all is read.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/plain_text.hpp>
#include <tranche/sheet/detail/document/named_cut.hpp>
#include <tranche/sheet/detail/document/nearest_word.hpp>
#include <tranche/sheet/detail/document/read_orders.hpp>
#include <tranche/sheet/detail/document/section_kinds.hpp>
#include <tranche/sheet/detail/document/section_reader.hpp>
#include <tranche/sheet/detail/loin_kinds.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// More of each than any loin, menu or market has; so that a sheet of any length is read in a moment.
inline constexpr std::size_t most_parts_of_a_kind = 100, longest_name = 120;

/// Builds a sheet of a document.
template <class = when_called>
class sheet_builder {
public:
    explicit sheet_builder(const sheet_document& document) : document_(document) {}

    [[nodiscard]] cut_sheet built() {
        require_known_parts();
        bool units_said = false;
        for (const sheet_part& part : document_)
            if (part.heading == "sheet") {
                section_reader<> in(part, sheet_);
                units_said = in.has("units");
                sheet_fields(in, sheet_);
            }
        take_units_of_scale(units_said);
        std::optional<currency_choice> choice;
        if (sheet_.currency) choice.emplace(*sheet_.currency);
        sheet_.rules.loose.clear();
        for (const sheet_part& part : document_) read(part);
        finish();
        return sheet_;
    }
    /// As far as it was read.
    [[nodiscard]] const cut_sheet& sheet() const { return sheet_; }

private:
    using parts = std::vector<const sheet_part*>;

    /// Where a section would stand that is not there.
    [[nodiscard]] std::string missing(std::string_view heading) const {
        const section_kind& kind = *section_kind_of(heading);
        if (!document_.empty() && document_.front().json) return '/' + std::string(kind.json);
        return '[' + std::string(heading) + (kind.named == naming::yes ? " ...]" : "]");
    }

    void require_known_parts() const {
        std::set<std::string> seen;
        std::map<std::string, std::size_t> count;
        for (const sheet_part& part : document_) {
            if (const std::size_t long_name = std::max(columns_of(part.name), part.name.size() / 4);
                long_name > longest_name)
                throw invalid_input(part.json ? part.place + "/name" : '[' + shortened(part.place.substr(1), 30) + ']',
                                    "a name of " + std::to_string(long_name) + " characters",
                                    "at most " + std::to_string(longest_name));
            require_known_keys(part, *section_kind_of(part.heading));
            if (!seen.insert(part.heading + '\n' + lower(part.name)).second)
                throw invalid_input(part.place + part.line, "the same section twice", "each section once");
            const std::size_t most = part.heading == "station" ? most_parts_of_a_kind * 10 : most_parts_of_a_kind;
            if (++count[part.heading] > most)
                throw invalid_input(part.place, "more than " + std::to_string(most) + " of its kind", "fewer");
        }
    }

    void read(const sheet_part& part) {
        section_reader<> in(part, sheet_);
        const std::string& heading = part.heading;
        if (heading == "loin") {
            sheet_loin loin{.name = part.name};
            loin_fields(in, loin);
            sheet_.loins.push_back(loin);
            loins_.push_back(&part);
        } else if (heading == "station") {
            stations_.push_back(&part);
        } else if (heading == "cutting") {
            cutting_fields(in, sheet_);
            cutting_ = &part;
        } else if (heading == "trim") {
            trim_goes_to_fields(in, sheet_.rules.trim_goes_to);
        } else if (heading == "trim whole") {
            trim_fields(in, sheet_.rules.trim_whole);
        } else if (heading == "cut") {
            sheet_cut cut{.spec = {.name = part.name}};
            cut_fields(in, cut);
            sheet_.cuts.push_back(cut);
            cuts_.push_back(&part);
        } else if (heading == "loose") {
            loose_cut use{.goes_to = destination_of(part)};
            loose_fields(in, use);
            sheet_.rules.loose.push_back(use);
        } else if (heading == "order") {
            sheet_order order{.cut = part.name};
            order_fields(in, order);
            sheet_.orders.push_back(order);
            orders_.push_back(&part);
        } else if (heading == "compare") {
            sheet_alternative other{.ready = {.name = part.name}};
            compare_fields(in, other);
            sheet_.alternatives.push_back(other);
            alternatives_.push_back(&part);
        } else if (heading == "offer") {
            sheet_offer other{.name = part.name};
            offer_fields(in, other);
            sheet_.offers.push_back(other);
        } else {
            read_money(in);
        }
    }
    void read_money(section_reader<>& in) {
        const std::string& heading = in.part().heading;
        if (heading == "worth") worth_fields(in, sheet_.by_products);
        if (heading == "labour") labour_fields(in, sheet_.labour);
        if (heading == "edible") edible_fields(in, sheet_.basis);
        if (heading == "costs") costs_fields(in, sheet_.costs);
        if (heading == "grind") grind_fields(in, sheet_.grind.emplace());
        if (heading == "menu") menu_fields(in, sheet_.menu.emplace());
        if (heading == "case") case_fields(in, sheet_.retail.emplace());
        if (heading == "study") study_fields(in, sheet_.study.emplace());
    }

    /// "grind"; with a number behind it if there are several uses of the kind.
    [[nodiscard]] static destination destination_of(const sheet_part& part) {
        const std::string name = lower(part.name);
        const auto blank = name.find(' ');
        const bool numbered = blank != std::string::npos && whole_number_of<int>(name.substr(blank + 1)).has_value();
        for (const auto& [word, meaning] : destination_words())
            if (word == (numbered ? name.substr(0, blank) : name)) return meaning;
        throw invalid_input(part.place, '"' + part.name + '"', "loose strips, dice, grind, rendering or discard");
    }

    void finish() {
        if (sheet_.rules.loose.empty()) sheet_.rules.loose.push_back(loose_cut{});
        if (sheet_.loins.empty()) throw invalid_input(missing("loin"), "no such section", "one");
        if (sheet_.cuts.empty()) throw invalid_input(missing("cut"), "no such section", "at least one");
        place_stations();
        for (std::size_t i = 0; i < sheet_.loins.size(); ++i) check_loin(i);
        check_thicknesses();
        for (std::size_t i = 0; i < sheet_.cuts.size(); ++i) check_cut(i);
        check_aim();
        check_rules();
        check_orders(sheet_, orders_, loins_);
        for (std::size_t i = 0; i < sheet_.alternatives.size(); ++i) {
            for (std::string& name : sheet_.alternatives[i].ready.replaces)
                name_cut(sheet_, *alternatives_[i], "replaces", name);
        }
    }

    /// "[station 2]" belongs to the only loin, "[station A 2]" to loin A.
    void place_stations() {
        for (const sheet_part* const part : stations_) {
            sheet_loin* of = sheet_.loins.size() == 1 ? &sheet_.loins.front() : nullptr;
            std::size_t longest = 0;
            for (sheet_loin& loin : sheet_.loins) {
                const bool named_so = lower(part->name).starts_with(lower(loin.name) + ' ');
                if (loin.name.empty() || !named_so || loin.name.size() < longest) continue;
                of = &loin;
                longest = loin.name.size();
            }
            if (of == nullptr)
                throw invalid_input(part->place, '"' + part->name + '"',
                                    "the name of its loin and a number, such as station " + sheet_.loins.front().name +
                                        " 1");
            section_reader<> in(*part, sheet_);
            station at;
            station_fields(in, at);
            in.check({{"", "at"}}, [&] {
                if (!of->stations.empty() && !(at.at > of->stations.back().at))
                    throw invalid_input("", at.at,
                                        sentence("more than at the station before it, ") +
                                            rounded_up(of->stations.back().at));
                if (of->length && at.at > *of->length)
                    throw invalid_input("", at.at, sentence("at most the length, ") + rounded_down(*of->length));
            });
            of->stations.push_back(at);
        }
    }

    void check_loin(std::size_t i) {
        sheet_loin& loin = sheet_.loins[i];
        section_reader<> in(*loins_[i], sheet_);
        if (loin.name.empty() && sheet_.loins.size() > 1)
            throw invalid_input(loins_[i]->place, "no name", "a name for each of several loins");
        if (loin.stations.empty()) {
            for (const char* key : {"silverskin", "fill", "gluteus medius from", "gluteus medius share"})
                if (in.has(key)) in.refuse_key(key, "", "none where no station is measured");
            in.check({{"", "kind"}}, [&] {
                if (loin.kind.empty()) return;
                std::vector<std::string_view> known;
                for (const sheet_kind& kind : sheet_kinds) {
                    const std::string_view name = kind.proportions->name;
                    known.push_back(name);
                    if (plain_key(name) == plain_key(loin.kind)) {
                        loin.kind = name;
                        return;
                    }
                }
                throw invalid_input("", "", perhaps_meant(nearest_word(loin.kind, known), known));
            });
            // Here, where its line is known, and again where it is planned with.
            const std::string key = loin.on_the_board ? "weight on the board" : "weight";
            in.check({{"weight", key}}, [&] {
                const auto of_that_kind = [&](const sheet_kind& k) { return k.proportions->name == loin.kind; };
                const sheet_kind& kind = loin.kind.empty()
                                             ? sheet_kinds.front()
                                             : *std::find_if(sheet_kinds.begin(), sheet_kinds.end(), of_that_kind);
                check_typical_weight(loin.on_the_board.value_or(loin.weight), *kind.proportions);
            });
            return;
        }
        if (!loin.length)
            throw invalid_input(loins_[i]->field("length"), "nothing", "the length as it lies, such as 16 1/2 in");
        if (in.has("kind")) in.refuse_key("kind", "", "none where stations are measured");
        in.check({{"gluteus_medius.onset", "gluteus medius from"},
                  {"gluteus_medius.share_at_end", "gluteus medius share"},
                  {"fat_cover", "silverskin"}},
                 [&] {
                     measured_loin measured{.length = *loin.length, .stations = loin.stations};
                     if (loin.gluteus_medius) measured.gluteus_medius = *loin.gluteus_medius;
                     if (loin.fill) measured.shape.fill = *loin.fill;
                     if (loin.silverskin) measured.shape.silverskin = *loin.silverskin;
                     validate(measured);
                 });
    }

    /// The units of a sheet that does not say them: those in which its loins are weighed. Decimal pounds are for those whose scale
    /// shows 12.31 lb, whatever the sheet says of US units.
    void take_units_of_scale(bool said) {
        for (const sheet_part& part : document_)
            for (const char* key : {"weight", "weight on the board"}) {
                const sheet_entry* const entry = part.heading == "loin" ? part.find(key) : nullptr;
                if (entry == nullptr) continue;
                text_reader in(entry->text, "", "");
                if (!number_can_be_read(in)) continue;
                const std::string number = entry->text.substr(0, entry->text.size() - in.rest().size());
                const named_unit* const unit = in.unit(mass_units);
                if (unit == nullptr || !trimmed(in.rest()).empty()) continue;
                const bool pounds = unit->si == pound.value();
                if (pounds && number.find('.') != std::string::npos && sheet_.units == sheet_units::us)
                    sheet_.units = sheet_units::decimal_pounds;
                if (!said && (unit->si == kilogram.value() || unit->si == gram.value()))
                    sheet_.units = sheet_units::metric;
            }
    }
    [[nodiscard]] static bool number_can_be_read(text_reader& in) {
        try {
            return in.number().has_value();
        } catch (const invalid_input&) { // is refused where it is read
            return false;
        }
    }

    void check_thicknesses() {
        if (!sheet_.thicknesses.empty() && sheet_.cuts.size() != 1)
            section_reader<>(*cutting_, sheet_)
                .refuse_key("thicknesses", "", "one cut on the sheet to compare them for");
        for (std::size_t i = 0; i < sheet_.cuts.size(); ++i) {
            if (cuts_[i]->find("thickness") != nullptr) continue;
            if (sheet_.thicknesses.empty())
                throw invalid_input(cuts_[i]->field("thickness"), "nothing",
                                    "a thickness such as 1 1/8 in to 1 1/2 in");
            sheet_.cuts[i].spec.thickness = sheet_.thicknesses.front();
        }
    }

    void check_cut(std::size_t i) {
        const cut_spec& spec = sheet_.cuts[i].spec;
        section_reader<> in(*cuts_[i], sheet_);
        if (!(spec.thickness.min > length{})) in.refuse_key("thickness", "", "a lower limit above zero");
        in.check({{"thickness.min", "thickness"},
                  {"thickness.max", "thickness"},
                  {"portion.min", "portion"},
                  {"portion.max", "portion"},
                  {"kerf", "kerf"},
                  {"zone.min", "zone"},
                  {"zone.max", "zone"},
                  {"thickness_step", "thickness step"}},
                 [&] { validate(spec); });
        in.check({{"", "thickness step"}}, [&] {
            const double notches = spec.thickness_step / grid_of(sheet_);
            if (std::abs(notches - std::round(notches)) > 1e-6)
                throw invalid_input("", spec.thickness_step,
                                    sentence("a whole multiple of the grid, ") + grid_of(sheet_));
        });
    }

    void check_aim() {
        const auto priced = [](const sheet_cut& cut) { return cut.price || cut.price_each; };
        const bool all_priced = std::all_of(sheet_.cuts.begin(), sheet_.cuts.end(), priced);
        if (cutting_ == nullptr || cutting_->find("plan for") == nullptr)
            sheet_.plan_for = all_priced ? sheet_aim::best_value : sheet_aim::most_portions;
        for (std::size_t i = 0; i < sheet_.cuts.size(); ++i) {
            const sheet_cut& cut = sheet_.cuts[i];
            const section_reader<> in(*cuts_[i], sheet_);
            if (sheet_.plan_for == sheet_aim::best_value && !priced(cut))
                in.refuse_key("price", "nothing", "a price, or a price each: the plan is for best value");
            if (sheet_.plan_for == sheet_aim::least_giveaway && !cut.charged_as && !(cut.spec.portion.min > mass{}))
                in.refuse_key("charged as", "nothing",
                              "a weight, or a portion with a lower limit: the plan is for least giveaway");
        }
        if (sheet_.plan_for == sheet_aim::even_portions) return;
        for (const char* key : {"portions", "even within"})
            if (cutting_ != nullptr && cutting_->find(key) != nullptr)
                section_reader<>(*cutting_, sheet_).refuse_key(key, "", "none: only plans for even portions take it");
    }

    void check_rules() {
        const sheet_part nothing_said{.heading = "cutting", .place = missing("cutting")};
        section_reader<> in(cutting_ == nullptr ? nothing_said : *cutting_, sheet_);
        length shortest = unlimited<length>();
        for (const sheet_loin& loin : sheet_.loins)
            if (loin.length) shortest = std::min(shortest, *loin.length);
        in.check({{"facing", "facing"}, {"cut_at", "cut at"}, {"kept_whole", "kept whole"}}, [&] {
            try {
                validate(sheet_.rules, shortest);
            } catch (const invalid_input& error) { // "kept_whole[1].min"
                throw invalid_input(error.field().substr(0, error.field().find('[')), error.value_words(),
                                    error.expected_words());
            }
        });
        for (cut_order& o : sheet_.rules.order) {
            name_cut(sheet_, in.part(), "order", o.first);
            name_cut(sheet_, in.part(), "order", o.then);
        }
        std::vector<cut_spec> specs;
        for (const sheet_cut& cut : sheet_.cuts) specs.push_back(cut.spec);
        in.check({{"", "order"}}, [&] { validate(sheet_.rules.order, specs); });
    }

    const sheet_document& document_;
    cut_sheet sheet_{};
    parts loins_{}, stations_{}, cuts_{}, orders_{}, alternatives_{};
    const sheet_part* cutting_ = nullptr;
};

/// The error with its quantities in these units, and nothing in it that a terminal takes for a command.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD invalid_input in_units_of(const cut_sheet& sheet, const invalid_input& error) {
    const kitchen_units units = kitchen_of(sheet);
    return {printable(error.field()), printable(in_units(error.value_words(), units)),
            printable(in_units(error.expected_words(), units))};
}

/// Throws `invalid_input` with the place in the sheet as its field, in the units of the sheet.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD cut_sheet sheet_of(const sheet_document& document) {
    sheet_builder<> builder(document);
    try {
        return builder.built();
    } catch (const invalid_input& error) {
        throw in_units_of(builder.sheet(), error);
    }
}

} // namespace tranche::detail
