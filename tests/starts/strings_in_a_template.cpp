// A template with strings in braces that are an argument, where nothing but a header of ours has asked about strings before.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/units/detail/settled.hpp>

#include <vector>

enum class role { one, another };

template <class T>
struct part {
    std::string name{};
    T weight{};
    role as = role::one;
    std::string goes_to{};
};

template <class T>
struct whole {
    T weight{}, price{};
};

template <class T>
bool known(const whole<T>&, const std::vector<part<T>>& parts) {
    return !parts.empty();
}

int main() {
    return known<double>({.weight = 2.0, .price = 3.0}, {{.name = "steaks", .weight = 1.0, .as = role::another}}) ? 0
                                                                                                                  : 1;
}
