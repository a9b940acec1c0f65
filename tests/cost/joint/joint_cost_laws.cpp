// Laws of joint cost over invented products and plans: it adds up, stays within a unit of the exact share, and does not
// care about order or currency unit.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include <tranche/tranche.hpp>

#include "support/catch.hpp"

namespace joint_cost_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr std::array all_methods{joint_method::physical_measure, joint_method::split_off_value,
                                 joint_method::net_realisable_value, joint_method::constant_margin};

std::vector<joint_product<eur>> invented(std::mt19937& random) {
    std::vector<joint_product<eur>> products(1 + random() % 12);
    const auto cents = [&] { return static_cast<double>(random() % 1'000'000) * 0.01_eur; };
    for (std::size_t i = 0; i < products.size(); ++i) {
        joint_product<eur>& p = products[i];
        p.name = "product " + std::to_string(i);
        p.weight = static_cast<double>(1 + random() % 100'000) * gram;
        p.split_off_value = cents() + 0.01_eur;
        if (random() % 2 == 0) p.final_value = cents() + 0.01_eur;
        if (random() % 2 == 0) p.separable_cost = 0.1 * cents();
    }
    // At least one has a net realisable value.
    products[0].final_value = products[0].separable_cost + 3.21_eur;
    return products;
}

} // namespace

TEST_CASE("allocate_joint_cost: adds up to the minor unit by every method") {
    std::mt19937 random(1);
    for (int i = 0; i < 300; ++i) {
        const auto products = invented(random);
        const amount<eur> cost{static_cast<std::int64_t>(random() % 100'000'000)};
        std::vector<joint_by_product<eur>> by_products;
        if (random() % 2 == 0)
            by_products.push_back({"trim", static_cast<double>(random() % 1000) * 0.013_eur, 0.5_eur});
        for (const joint_method method : all_methods) {
            const auto shared = allocate_joint_cost(cost, products, method, by_products);
            amount<eur> sum = shared.credit, total, separable;
            double shares = 0.0;
            for (const auto& line : shared.lines) {
                sum += line.joint_cost;
                total += line.total_cost;
                separable += line.separable_cost;
                shares += line.share;
                if (method != joint_method::constant_margin)
                    CHECK((shared.shared.minor < 0 || line.joint_cost.minor >= 0));
            }
            CHECK(sum == cost);
            CHECK(total == shared.shared + separable);
            CHECK_THAT(shares, WithinAbs(1.0, 1e-14));
        }
    }
}

TEST_CASE("allocate_joint_cost: stays within a minor unit of the exact share") {
    std::mt19937 random(2);
    for (int i = 0; i < 200; ++i) {
        const auto products = invented(random);
        const amount<eur> cost{static_cast<std::int64_t>(random() % 100'000'000)};
        double values = 0.0, sales = 0.0, separable = 0.0;
        for (const auto& p : products) {
            values += std::max(0.0, (*p.sales_value() - p.separable_cost).value());
            sales += p.sales_value()->value();
            separable += p.separable_cost.value();
        }
        const auto by_value = allocate_joint_cost(cost, products, joint_method::net_realisable_value);
        const auto by_margin = allocate_joint_cost(cost, products, joint_method::constant_margin);
        const double exact_cost = to_money(cost).value();
        for (std::size_t k = 0; k < products.size(); ++k) {
            const auto& p = products[k];
            const double value = std::max(0.0, (*p.sales_value() - p.separable_cost).value());
            CHECK(std::abs(to_money(by_value.lines[k].joint_cost).value() - exact_cost * value / values) < 0.01);
            // Separable costs are rounded too: half a cent each, at most, of the total that is shared.
            const double total = (exact_cost + separable) * p.sales_value()->value() / sales;
            CHECK(std::abs(to_money(by_margin.lines[k].total_cost).value() - total) <
                  0.01 + 0.005 * static_cast<double>(products.size()));
        }
    }
}

TEST_CASE("allocate_joint_cost: gives a product the same in any order, but for odd units among ties") {
    std::mt19937 random(3);
    for (int i = 0; i < 100; ++i) {
        auto products = invented(random);
        const amount<eur> cost{static_cast<std::int64_t>(random() % 100'000'000)};
        for (const joint_method method : all_methods) {
            const auto shared = allocate_joint_cost(cost, products, method);
            auto shuffled = products;
            std::shuffle(shuffled.begin(), shuffled.end(), random);
            for (const auto& line : allocate_joint_cost(cost, shuffled, method).lines) {
                const auto same = std::find_if(shared.lines.begin(), shared.lines.end(), [&](const auto& other) {
                    return other.product.name == line.product.name;
                });
                REQUIRE(same != shared.lines.end());
                CHECK(std::abs(line.joint_cost.minor - same->joint_cost.minor) <= 1);
            }
        }
    }
}

TEST_CASE("allocate_joint_cost: does not change when all values scale") {
    std::mt19937 random(4);
    for (int i = 0; i < 100; ++i) {
        auto products = invented(random);
        const amount<eur> cost{static_cast<std::int64_t>(random() % 100'000'000)};
        const auto before = allocate_joint_cost(cost, products, joint_method::net_realisable_value);
        for (auto& p : products) {
            p.split_off_value = 1000.0 * *p.split_off_value;
            if (p.final_value) p.final_value = 1000.0 * *p.final_value;
            p.separable_cost *= 1000.0;
        }
        const auto after = allocate_joint_cost(cost, products, joint_method::net_realisable_value);
        for (std::size_t k = 0; k < products.size(); ++k)
            CHECK(after.lines[k].joint_cost == before.lines[k].joint_cost);
    }
}

} // namespace joint_cost_laws
