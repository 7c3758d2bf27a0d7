// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"

#include <algorithm>
#include <utility>

namespace overjoist::io {

bool is_id(Reader& r, std::string_view id) {
  const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
  const bool fits = !id.empty() && id.size() <= kIdText && plain(id.front()) &&
                    std::all_of(id.begin(), id.end(), [&](char c) {
                      return plain(c) || c == '.' || c == '/' || c == '-';
                    });
  if (!fits) r.fault(make_fault<F::odd_id>(r.token(), kIdText));
  return fits;
}

void pass_over(Reader&, Tables&, Scalar&) {}
void set_table(Reader& r, Tables&, Scalar& v) {
  const Header& header = r.user<Header>();
  if (*v.text != header.expected) r.fault(make_fault<F::other_table>(r.token(), header.expected));
}
void set_table_version(Reader& r, Tables&, Scalar& v) {
  r.user<Header>().version = std::move(*v.text);
}

}  // namespace overjoist::io
