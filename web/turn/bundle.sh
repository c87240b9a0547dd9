#!/bin/sh
# Bundles view.js with three.js into one file that the server sends on demand.
# The sum of the source stands in the bundle's first line; a test compares it.
set -eu
cd "$(dirname "$0")"
npm install --no-package-lock --no-audit --no-fund
sum=$(sha256sum view.js | cut -c1-64)
npx esbuild view.js --bundle --minify --format=esm --target=es2020 --legal-comments=none \
  --banner:js="/* view.js $sum. Holds three.js 0.187.0, copyright 2010-2026 three.js authors, MIT licence: web/turn/LICENSE-three */" \
  --outfile=../static/turn.view.js
cp node_modules/three/LICENSE LICENSE-three
