// What reads the keys of one section, and refuses those that it has not.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/sheet/detail/document/nearest_word.hpp>
#include <tranche/sheet/detail/document/section_kinds.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Reads the keys of one section.
template <class = when_called>
class section_reader final : public field_visitor {
public:
    section_reader(const sheet_part& part, const cut_sheet& sheet) : part_(part), sheet_(sheet) {}

    TRANCHE_COLD void field(std::string_view key, field_form form, const std::string& required, const reading& read,
                            const writing&) override {
        const sheet_entry* const entry = part_.find(key);
        if (entry == nullptr) {
            if (!required.empty()) throw invalid_input(part_.field(key), "nothing", required);
            return;
        }
        if (entry->listed && form != field_form::list) throw invalid_input(entry->place, "a list", "one value");
        if (entry->text.empty() && entry->items.empty())
            throw invalid_input(entry->place, "nothing", part_.json ? "a value" : "a value behind the =");
        if (form == field_form::list && entry->items.empty()) refuse_entry(*entry, "one or more, separated by commas");
        if (form == field_form::list)
            require_short(*entry);
        else if (entry->text.size() > longest_value)
            refuse_entry(*entry, "at most " + std::to_string(longest_value) + " bytes");
        read(*entry);
    }
    /// The text that was written is shown as the value where there is one.
    TRANCHE_COLD void check(const fields_to_keys& keys, const std::function<void()>& holds) override {
        try {
            holds();
        } catch (const invalid_input& error) {
            for (const auto& [field, key] : keys)
                if (error.field().ends_with(field)) refuse_key(key, error.value_words(), error.expected_words());
            throw invalid_input(part_.place, error.value_words(), error.expected_words());
        }
    }
    [[nodiscard]] bool has(std::string_view key) const override { return part_.find(key) != nullptr; }
    [[nodiscard]] sheet_units units() const override { return sheet_.units; }
    void require_currency(const sheet_entry& entry) const override {
        if (!sheet_.currency)
            throw invalid_input(part_.json ? "/sheet/currency" : "[sheet] currency", "nothing",
                                "the ISO 4217 code of the money in " + entry.place + ", such as USD");
    }
    [[noreturn]] TRANCHE_COLD void refuse_key(const std::string& key, const sentence& value,
                                              const sentence& expected) const {
        if (const sheet_entry* const entry = part_.find(key)) refuse_entry(*entry, expected);
        throw invalid_input(part_.field(key), value, expected);
    }
    [[nodiscard]] const sheet_part& part() const { return part_; }

private:
    static constexpr std::size_t longest_value = 2000, longest_item = 500, most_items = 100;

    static void require_short(const sheet_entry& entry) {
        if (entry.items.size() > most_items) refuse_entry(entry, "at most " + std::to_string(most_items) + " of them");
        for (const std::string& item : entry.items)
            if (item.size() > longest_item)
                refuse_entry(entry, "at most " + std::to_string(longest_item) + " bytes each");
    }

    const sheet_part& part_;
    const cut_sheet& sheet_;
};

template <class = when_called>
[[nodiscard]] const section_kind* section_kind_of(std::string_view heading) {
    const auto found = std::find_if(section_kinds().begin(), section_kinds().end(),
                                    [&](const section_kind& kind) { return kind.heading == heading; });
    return found == section_kinds().end() ? nullptr : &*found;
}

[[nodiscard]] TRANCHE_COLD inline std::string perhaps_meant(std::string_view meant,
                                                            const std::vector<std::string_view>& known) {
    return (meant.empty() ? "" : "perhaps " + std::string(meant) + "; ") + ("one of " + in_a_row(known));
}

/// Throws for keys that a section has not or has twice, before anything is read: what is misspelt would else be reported as
/// missing.
template <class = when_called>
TRANCHE_COLD void require_known_keys(const sheet_part& part, const section_kind& kind) {
    const std::vector<known_key> all = keys_of(kind);
    std::vector<std::string_view> known;
    for (const known_key& k : all) known.push_back(k.key);
    std::set<std::string> seen;
    for (const sheet_entry& entry : part.entries) {
        const std::string plain = plain_key(entry.key);
        if (std::none_of(known.begin(), known.end(), [&](std::string_view k) { return plain_key(k) == plain; }))
            throw invalid_input(entry.place, "a key that has no meaning here",
                                perhaps_meant(nearest_word(plain, known), known));
        if (!seen.insert(plain).second)
            throw invalid_input(entry.place, "the same key twice", "each key once in a section");
    }
}

} // namespace tranche::detail
