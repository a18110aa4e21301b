# The front end into the program: esbuild bundles web/ into a few files, and the assembler takes them
# in as bytes.

find_program(BATTEN_NODE NAMES node nodejs REQUIRED)
find_program(BATTEN_NPM NAMES npm REQUIRED)

set(BATTEN_WEB ${PROJECT_SOURCE_DIR}/web)
# Says in the build's own folder that the packages are there.
set(BATTEN_WEB_INSTALLED ${PROJECT_BINARY_DIR}/web-installed)

# batten_web_assets(target symbols-prefix): a library with the bytes of index.html, app.js, app.css and
# the languages between batten_asset_<name> and batten_asset_<name>_end.
function(batten_web_assets target)
  file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${BATTEN_WEB}/src/*)
  set(out ${PROJECT_BINARY_DIR}/web)
  add_custom_command(OUTPUT ${BATTEN_WEB_INSTALLED}
    # Several builds share the packages: npm's own note of what it installed tells whether they are
    # the ones named.
    COMMAND sh -c "test node_modules/.package-lock.json -nt package-lock.json || { \"$1\" ci --ignore-scripts --no-audit --no-fund --loglevel=error && touch node_modules/.package-lock.json; }" install ${BATTEN_NPM}
    COMMAND ${CMAKE_COMMAND} -E touch ${BATTEN_WEB_INSTALLED}
    DEPENDS ${BATTEN_WEB}/package.json ${BATTEN_WEB}/package-lock.json
    WORKING_DIRECTORY ${BATTEN_WEB}
    COMMENT "Installing what the front end is built with" VERBATIM)
  add_custom_command(OUTPUT ${out}/index.html ${out}/app.js ${out}/app.css ${out}/en.js ${out}/de.js
    COMMAND ${BATTEN_NODE} build.mjs ${out}
    DEPENDS ${sources} ${BATTEN_WEB}/build.mjs ${BATTEN_WEB}/tsconfig.json ${BATTEN_WEB_INSTALLED}
    WORKING_DIRECTORY ${BATTEN_WEB}
    COMMENT "Building the front end" VERBATIM)
  set(text "// The front end's files as bytes.\n    .section .rodata\n")
  foreach(name index.html app.js app.css en.js de.js)
    string(REPLACE "." "_" symbol ${name})
    string(APPEND text "    .global batten_asset_${symbol}\n    .global batten_asset_${symbol}_end\n"
                       "    .balign 16\nbatten_asset_${symbol}:\n    .incbin \"${out}/${name}\"\n"
                       "batten_asset_${symbol}_end:\n    .byte 0\n")
  endforeach()
  string(APPEND text "    .section .note.GNU-stack,\"\",@progbits\n")
  file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/web_assets.s CONTENT "${text}" @ONLY)
  set_source_files_properties(${PROJECT_BINARY_DIR}/web_assets.s PROPERTIES
    OBJECT_DEPENDS "${out}/index.html;${out}/app.js;${out}/app.css;${out}/en.js;${out}/de.js")
  add_library(${target} STATIC ${PROJECT_BINARY_DIR}/web_assets.s)
  set_target_properties(${target} PROPERTIES LINKER_LANGUAGE CXX)
endfunction()
