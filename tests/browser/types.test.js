// The page's scripts are sound by their own types.

import { test } from "node:test";
import { execFileSync } from "node:child_process";
import { join, dirname } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));

test("the scripts pass the type checker", () => {
  const project = join(here, "..", "..", "crates", "web", "scripts", "jsconfig.json");
  execFileSync(join(here, "node_modules", ".bin", "tsc"), ["-p", project], { stdio: "inherit" });
});
