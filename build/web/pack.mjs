/* Packs a file as unpack.mjs unpacks it.  Run by Node at build:  node pack.mjs FROM TO */

import { readFileSync, writeFileSync } from "node:fs";
import { constants, zstdCompressSync } from "node:zlib";

const [from, to] = process.argv.slice(2);
const params = {
  [constants.ZSTD_c_compressionLevel]: 22, // the last there is: it is packed once and read often
  [constants.ZSTD_c_checksumFlag]: 1,
};
writeFileSync(to, zstdCompressSync(readFileSync(from), { params }));
