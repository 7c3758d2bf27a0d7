# Writes OUTPUT, a .cpp that holds each of FILES as a text named after the file. Run by cmake -P.
set(text "// Made from data/ by src/cmake/embed.cmake.\n#include \"tables/embedded.hpp\"\nnamespace overjoist::embedded {\n")
foreach(file IN LISTS FILES)
  get_filename_component(name ${file} NAME_WE)
  file(READ ${file} body HEX)
  string(REGEX REPLACE "(..)" "\\\\x\\1" body "${body}")
  # Short pieces: compilers limit the length of one literal.
  string(REGEX REPLACE "(................................................................................................................................................................................................................................................................)" "\\1\"\n\"" body "${body}")
  file(SIZE ${file} size)
  string(APPEND text "const std::string_view ${name}(\n\"${body}\", ${size});\n")
endforeach()
string(APPEND text "}  // namespace overjoist::embedded\n")
file(WRITE ${OUTPUT} "${text}")
