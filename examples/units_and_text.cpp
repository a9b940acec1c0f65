// Quantities, money and text: how they are made, counted, written, read back and compared. Invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <iostream>
#include <unordered_map>
#include <vector>

#include <tranche/text.hpp>
#include <tranche/units.hpp>

using namespace tranche;
using namespace tranche::literals;

namespace {

void quantities() {
    const length steak = 1.25_in;
    const mass loin = 11_lb + 8_oz;
    std::cout << steak << ", " << loin << ", " << 4_degC << '\n';
    std::cout << 12 * steak << " for a dozen, " << loin / 16 << " each of sixteen\n";
}

void divisions() {
    const mass loin = 5.398_kg;
    std::cout << to_text(loin, pounds_and_quarter_ounces) << '\n';
    std::cout << to_text(loin, thousandths_of_kilogram) << '\n';
    std::cout << to_text(31.75_mm, sixteenths_of_inch) << '\n';
    std::cout << to_text(loin, {.in = mass_division::unit::ounces, .parts = 2}) << '\n';
}

void prices() {
    const unit_price<usd> price = 7.90_usd / 1_lb;
    std::cout << to_text(price, price_basis::per_pound) << " is " << to_text(price, price_basis::per_kilogram) << '\n';
    std::cout << to_text(5.398_kg * price) << ", and " << to_text(18_usd / 1_h) << " for the work\n";
}

void money_and_amounts() {
    const money<usd> share = 100.00_usd / 3;
    const amount<usd> written = rounded(share, rounding::half_even);
    std::cout << share << " is written " << written << ", and three of these are " << written + written + written
              << '\n';
    const std::vector<std::int64_t> weights{1, 1, 1};
    for (const amount<usd>& part : split(amount<usd>{10'000}, weights)) std::cout << part << ' ';
    std::cout << '\n';
}

void reading() {
    const auto thickness = from_text<length>("1 1/4 in");
    const auto price = from_text<unit_price<usd>>("8.49 USD/lb", "price");
    std::cout << thickness << ", " << to_text(price, price_basis::per_pound) << '\n';
    try {
        (void)from_text<mass>("12 stone", "weight");
    } catch (const invalid_input& e) {
        std::cout << e.what() << '\n';
    }
}

void comparing() {
    std::unordered_map<amount<usd>, int> packs;
    for (const money<usd>& price : {7.905_usd, 7.90_usd, 8.10_usd}) ++packs[rounded(price, rounding::half_even)];
    std::cout << packs[{790}] << " packs at 7.90 USD\n";
    const micrograms loin = to_micrograms(5.2_kg), rest = loin - to_micrograms(340_g);
    std::cout << std::boolalpha << (rest + to_micrograms(340_g) == loin) << '\n'; // to the microgram
}

} // namespace

int main() {
    quantities();
    divisions();
    prices();
    money_and_amounts();
    reading();
    comparing();
}
