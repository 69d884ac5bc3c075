// Packs the engraving library for embedding: `node pack.mjs FOLDER`, run by Engraver.targets in the folder where npm installed it.
// Writes engraver.deflate (raw deflate, as a page unpacks it) and engraver.notices.txt (the licences that must go with it).
import { existsSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { deflateRawSync } from "node:zlib";

const folder = process.argv[2] ?? ".";
const modules = join(folder, "node_modules");
const source = readFileSync(join(modules, "opensheetmusicdisplay", "build", "opensheetmusicdisplay.min.js"));
writeFileSync(join(folder, "engraver.deflate"), deflateRawSync(source, { level: 9 }));

const notices = [];
for (const name of readdirSync(modules).sort()) {
  const home = join(modules, name);
  const manifest = join(home, "package.json");
  if (!existsSync(manifest)) continue;
  const { version, license } = JSON.parse(readFileSync(manifest, "utf8"));
  const file = readdirSync(home).find((entry) => /^licen[cs]e/i.test(entry));
  const text = file ? readFileSync(join(home, file), "utf8").trim() : "";
  notices.push(`${name} ${version} (${license})\n\n${text}`);
}
notices.push(
  "The music fonts inside vexflow are Bravura (Steinberg, SIL Open Font License 1.1) and Gonville (Simon Tatham).",
);
writeFileSync(join(folder, "engraver.notices.txt"), notices.join("\n\n----\n\n") + "\n");
