// Stays with you while you cut: takes the weight of every slab as it comes off and says where the knife goes next.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <exception>
#include <filesystem>
#include <iostream>
#include <optional>
#include <string>
#include <string_view>

#include <tranche/sheet.hpp>
#include <tranche/tranche.hpp>

#include "sheet_file.hpp"

namespace {

using namespace tranche;

constexpr const char* usage = R"(cut_along [SHEET]

Says where the next cut goes, takes what the scale says of the slab, learns from it and plans the rest again. SHEET is a
cut sheet as plan_a_loin reads it; without it an embedded sample (an invented scenario) is cut.

Each line of input is one of these:

  WEIGHT              of the slab as it comes off the knife: 11 1/4 oz, 320 g
  WEIGHT, THICKNESS   and how thick it came out: 320 g, 31 mm
  rest WEIGHT         of all that is left on the board; helps most before the last two or three cuts
  undo                takes the last line back
  plan                the cuts that are planned for the rest
  end                 stops here; end WEIGHT if what is left was weighed

Empty lines and what follows a # are left out, so a file or a pipe will do for input. Its end is as good as "end".

Exit status: 0 the session went to its end; 1 the sheet is fine but no portion can be cut; 2 the sheet or the command line
is wrong; 3 a file could not be read; 4 the session went to its end, but a line was refused and left out.
)";

enum exit_status { finished = 0, no_portions = 1, bad_input = 2, file_trouble = 3, line_refused = 4 };

std::string trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r";
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return std::string(text.substr(first, text.find_last_not_of(blanks) - first + 1));
}

/// What an error says, in these units, on one line that no terminal takes for a command.
std::string error_text(const invalid_input& error, const kitchen_units& units) {
    return detail::printable(error.field() + ": got " + in_units(error.value_words(), units) + ", expected " +
                             in_units(error.expected_words(), units));
}

/// The dialogue about one loin.
template <class Session>
class dialogue {
public:
    dialogue(Session& session, const kitchen_units& units) : session_(session), units_(units) {}

    [[nodiscard]] exit_status run(std::istream& in) {
        std::string line;
        bool refused = false;
        say_next();
        while (session_.next() && std::getline(in, line)) {
            const std::string entry = trimmed(std::string_view(line).substr(0, line.find('#')));
            if (entry.empty()) continue;
            try {
                if (!take(entry)) break;
            } catch (const invalid_input& error) {
                refused = true;
                std::cout << "  not taken: " << error_text(error, units_) << '\n';
            }
        }
        say_account();
        return refused ? line_refused : finished;
    }

private:
    /// False once there is nothing more to do.
    bool take(const std::string& entry) {
        if (entry == "end") return false;
        if (entry.starts_with("end ")) {
            rest_ = from_text<mass>(trimmed(entry.substr(4)), "end");
            detail::require_not_negative(*rest_, "end");
            return false;
        }
        if (entry == "plan") {
            say_plan();
            return true;
        }
        if (entry == "undo") {
            std::cout << (session_.undo() ? "  taken back\n" : "  nothing to take back\n");
        } else if (entry.starts_with("rest ")) {
            session_.weigh_rest(from_text<mass>(trimmed(entry.substr(5)), "rest"));
            say_estimate();
        } else {
            const auto comma = entry.find(',');
            slab_reading reading{.weight = from_text<mass>(trimmed(entry.substr(0, comma)), "weight")};
            if (comma != std::string::npos)
                reading.thickness = from_text<length>(trimmed(entry.substr(comma + 1)), "thickness");
            say_slab(session_.record(reading));
            say_estimate();
        }
        say_next();
        return true;
    }

    [[nodiscard]] std::string weight(mass m) const { return to_text(m, units_.portion); }
    [[nodiscard]] std::string thickness(length l) const { return to_text(l, units_.thickness); }
    [[nodiscard]] std::string along(length l) const { return to_text(l, units_.along); }

    [[nodiscard]] std::string name_of_slab(slab_kind kind, std::size_t option) const {
        if (kind == slab_kind::portions) return session_.specs()[option].name;
        if (kind == slab_kind::facing) return "facing";
        return "loose meat for " + std::string(name_of(session_.rules().loose[option].goes_to));
    }

    void say_next() const {
        const auto& next = session_.next();
        if (!next) return;
        std::cout << "Cut " << session_.slabs().size() + 1 << ": " << name_of_slab(next->kind, next->option);
        if (next->last)
            std::cout << ", all that is left; about ";
        else
            std::cout << ", " << thickness(next->set) << " thick, the knife at " << along(next->at)
                      << " from the rib end; about ";
        std::cout << weight(next->weight);
        if (next->kind == slab_kind::portions) {
            const int pieces = session_.specs()[next->option].pieces;
            std::cout << ", " << (pieces > 1 ? std::to_string(pieces) + " portions of " : std::string("trimmed "))
                      << weight(next->portion);
        }
        std::cout << ". Portions to come: " << session_.portions_to_come() << ".\nWeight? " << std::endl;
    }

    void say_slab(const actual_slab& s) const {
        std::cout << "  " << name_of_slab(s.kind, s.option) << ", " << weight(to_mass(s.weight));
        if (s.kind != slab_kind::portions) {
            std::cout << '\n';
            return;
        }
        const cut_spec& cut = session_.specs()[s.option];
        std::cout << (cut.pieces > 1 ? ", each trimmed about " : ", trimmed about ") << weight(s.portion) << ": "
                  << verdict(s, cut) << '\n';
    }
    [[nodiscard]] std::string verdict(const actual_slab& s, const cut_spec& cut) const {
        switch (s.to_do) {
        case remedy::none: return "within its limits";
        case remedy::trim_down:
            return "too heavy; trim " + weight(s.off) + " more" + (cut.pieces > 1 ? " off each" : "") + ", down to " +
                   weight(cut.portion.max);
        case remedy::another_spec:
            return "too light by " + weight(-s.off) + "; make it " + session_.specs()[s.other_spec].name;
        case remedy::to_loose: break;
        }
        return "too light by " + weight(-s.off) + "; it goes to the loose meat";
    }
    void say_estimate() const {
        const cutting_estimate& e = session_.estimate();
        std::cout << "  the loin weighs " << percent_text(e.ratio()) << " (give or take "
                  << percent_text(e.ratio_spread()) << ") of what was thought for its length; slabs come out "
                  << to_text(std::max(e.bias(), -e.bias()), tenths_of_millimetre) << " (give or take "
                  << to_text(e.bias_spread(), tenths_of_millimetre) << ") too "
                  << (e.bias() < length{} ? "thin" : "thick") << '\n';
    }
    void say_plan() const {
        std::cout << "  cut at " << along(session_.position()) << "; planned from there:\n";
        for (const grid_slab& s : session_.plan_of_rest())
            std::cout << "    to " << along(session_.meat().position(s.to)) << ": " << name_of_slab(s.kind, s.option)
                      << '\n';
    }
    void say_account() const {
        std::cout << "\nWhat was cut:\n";
        for (const actual_slab& s : session_.slabs()) say_slab(s);
        const cutting_account a = session_.account(rest_);
        const auto bulk = [&](micrograms m) { return to_text(to_mass(m), units_.bulk); };
        std::cout << "Slabs " << bulk(a.slabs) << ", rest " << bulk(a.rest) << ", unaccounted for "
                  << bulk(a.unaccounted) << ": the loin, " << bulk(a.whole) << ".\nPortions: " << a.portions_within
                  << " within their limits, " << a.portions_too_heavy << " too heavy, " << a.portions_too_light
                  << " too light.\n";
    }

    Session& session_;
    const kitchen_units& units_;
    std::optional<mass> rest_;
};

template <want W>
exit_status cut_with(const cut_sheet& sheet, const W& want) {
    const kitchen_units units = kitchen_of(sheet);
    const cutting_request request = detail::request_of(sheet);
    const profile meat = tabulate(detail::weighed_loin(sheet, sheet.loins.front()), grid_of(sheet));
    cutting_session session(meat, request, want);
    if (session.portions_to_come() == 0) {
        std::cout << "no portion can be cut:\n";
        for (const std::string& why : warnings_of(plan(meat, request, want), units)) std::cout << "  " << why << '\n';
        return no_portions;
    }
    for (const demand_shortfall& missing : session.shortfalls()) std::cout << missing.text << '\n';
    return dialogue(session, units).run(std::cin);
}

exit_status cut_sheet_along(const cut_sheet& sheet) {
    if (sheet.loins.size() > 1)
        throw invalid_input("[loin ...]", std::to_string(sheet.loins.size()) + " loins", "one, which is cut along");
    if (!sheet.title.empty()) std::cout << detail::printable(sheet.title) << "\n\n";
    for (const std::string& caution : cautions()) std::cout << caution << '\n';
    std::cout << '\n';
    return detail::with_want(sheet, detail::prices_of(sheet), [&](const auto& want) { return cut_with(sheet, want); });
}

} // namespace

int main(int count, char** words) {
    kitchen_units units = us_kitchen;
    try {
        std::filesystem::path file;
        for (int i = 1; i < count; ++i) {
            const std::string_view word = words[i];
            if (word == "--help" || word == "-h") return std::cout << usage, finished;
            if (word.starts_with("-") || word.empty())
                throw invalid_input("command line", '"' + std::string(word) + '"', "--help or a sheet");
            if (!file.empty()) throw invalid_input("command line", "two sheets", "one");
            file = word;
        }
        const cut_sheet sheet = read_sheet(std::string_view(example::text_of_sheet(file)));
        units = kitchen_of(sheet);
        const currency_choice choice(detail::currency_of_sheet(sheet));
        return cut_sheet_along(sheet);
    } catch (const invalid_input& error) {
        std::cerr << error_text(error, units) << '\n';
        return bad_input;
    } catch (const std::exception& error) { // files, memory, or a fault of our own
        std::cerr << detail::printable(error.what()) << '\n';
        return file_trouble;
    }
}
