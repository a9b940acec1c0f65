// A cut sheet as sections, keys and texts; what may be left out is.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/sheet/detail/document/read_document.hpp>
#include <tranche/sheet/detail/document/section_kinds.hpp>
#include <tranche/text/utf8.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Throws for words that cannot stand on a line of a sheet.
TRANCHE_COLD inline void require_line(const std::string& text, const std::string& place) {
    if (!is_plain_line(text) || trimmed(text) != text)
        throw invalid_input(place, '"' + text + '"', "one line of UTF-8 text without blanks at its ends");
}

/// Writes the keys of one section.
template <class = when_called>
class section_writer final : public field_visitor {
public:
    section_writer(sheet_part& part, sheet_units units) : part_(part), units_(units) {}

    TRANCHE_COLD void field(std::string_view key, field_form form, const std::string&, const reading&,
                            const writing& write) override {
        std::vector<std::string> items = write();
        if (items.empty()) return;
        sheet_entry entry{.key = std::string(key), .form = form, .place = part_.field(key)};
        for (const std::string& item : items) {
            require_line(item, entry.place);
            if (item.empty()) throw invalid_input(entry.place, "an empty item", "none");
            entry.text += (entry.text.empty() ? "" : ", ") + item;
        }
        entry.listed = form == field_form::list;
        entry.items = std::move(items);
        part_.entries.push_back(std::move(entry));
    }
    [[nodiscard]] sheet_units units() const override { return units_; }

private:
    sheet_part& part_;
    sheet_units units_;
};

/// Takes a sheet apart.
template <class = when_called>
class document_writer {
public:
    explicit document_writer(const cut_sheet& sheet) : sheet_(sheet) {}

    [[nodiscard]] sheet_document document() {
        std::optional<currency_choice> choice;
        if (sheet_.currency) choice.emplace(*sheet_.currency);
        add("sheet", "", sheet_, sheet_fields<>);
        for (sheet_loin& loin : sheet_.loins) {
            add("loin", loin.name, loin, loin_fields<>);
            const std::string of = loin.name.empty() ? "" : loin.name + ' ';
            for (std::size_t i = 0; i < loin.stations.size(); ++i)
                add("station", of + std::to_string(i + 1), loin.stations[i], station_fields<>);
        }
        add("cutting", "", sheet_, cutting_fields<>);
        add_unless("trim", sheet_.rules.trim_goes_to, cutting_rules{}.trim_goes_to, trim_goes_to_fields<>);
        add_unless("trim whole", sheet_.rules.trim_whole, trim_spec{}, trim_whole_fields<>);
        for (sheet_cut& cut : sheet_.cuts) add("cut", cut.spec.name, cut, cut_fields<>);
        loose();
        for (sheet_order& order : sheet_.orders) add("order", order.cut, order, order_fields<>);
        add_unless("worth", sheet_.by_products, {}, worth_fields<>);
        add_unless("labour", sheet_.labour, {}, labour_fields<>);
        add_unless("edible", sheet_.basis, {}, edible_fields<>);
        add_unless("costs", sheet_.costs, {}, costs_fields<>);
        for (sheet_alternative& other : sheet_.alternatives) add("compare", other.ready.name, other, compare_fields<>);
        for (sheet_offer& other : sheet_.offers) add("offer", other.name, other, offer_fields<>);
        if (sheet_.grind) add("grind", "", *sheet_.grind, grind_fields<>);
        if (sheet_.menu) add("menu", "", *sheet_.menu, menu_fields<>);
        if (sheet_.retail) add("case", "", *sheet_.retail, case_fields<>);
        if (sheet_.study) add("study", "", *sheet_.study, study_fields<>);
        return std::move(document_);
    }

private:
    template <class Of>
    using fields_of = void (*)(field_visitor&, Of&);

    template <class Of>
    void add(std::string_view heading, const std::string& name, Of& of, fields_of<Of> fields) {
        sheet_part part{.heading = std::string(heading), .name = name};
        const section_kind& kind = *section_kind_of(heading);
        part.place = '[' + std::string(heading) + (name.empty() ? "" : ' ' + name) + ']';
        if (kind.named == naming::yes && name.empty()) throw invalid_input(part.place, "no name", "a name");
        require_line(name, part.place);
        section_writer<> out(part, sheet_.units);
        fields(out, of);
        document_.push_back(std::move(part));
    }
    template <class Of>
    void add_unless(std::string_view heading, Of& of, const std::type_identity_t<Of>& otherwise, fields_of<Of> fields) {
        if (!(of == otherwise)) add(heading, "", of, fields);
    }
    /// Uses of one kind are told apart by a number.
    void loose() {
        if (sheet_.rules.loose == cutting_rules{}.loose) return;
        by_destination<int> before;
        for (loose_cut& use : sheet_.rules.loose) {
            const int number = ++before[use.goes_to];
            add("loose", std::string(name_of(use.goes_to)) + (number > 1 ? ' ' + std::to_string(number) : ""), use,
                loose_fields<>);
        }
    }

    cut_sheet sheet_; ///< its own, as what describes the keys takes what can be read into
    sheet_document document_{};
};

/// Throws `invalid_input` for a sheet that cannot be or cannot be written.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD sheet_document document_of(const cut_sheet& sheet) {
    sheet_document document = document_writer<>(sheet).document();
    const cut_sheet again = sheet_of(document);
    if (again == sheet) return document;
    const sheet_document back = document_writer<>(again).document();
    for (std::size_t p = 0; p < std::min(document.size(), back.size()); ++p)
        for (const sheet_entry& entry : document[p].entries) {
            const sheet_entry* const other = back[p].find(entry.key);
            if (other == nullptr || other->text != entry.text)
                throw invalid_input(entry.place, entry.shown(), other == nullptr ? "nothing" : other->shown());
        }
    throw invalid_input("the sheet", "something that no key of it can say", "a sheet that reads back as it is");
}

} // namespace tranche::detail
