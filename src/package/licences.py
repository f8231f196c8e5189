"""Every crate built into the program with its version, licence and the text of it: what the licences ask to travel along."""

import json
import pathlib
import subprocess

host = next(
    line.split(": ")[1]
    for line in subprocess.run(["rustc", "-vV"], capture_output=True, text=True, check=True).stdout.splitlines()
    if line.startswith("host: ")
)
metadata = json.loads(
    subprocess.run(
        ["cargo", "metadata", "--locked", "--format-version", "1", "--filter-platform", host],
        capture_output=True, text=True, check=True,
    ).stdout
)
packages = {package["id"]: package for package in metadata["packages"]}
nodes = {node["id"]: node for node in metadata["resolve"]["nodes"]}

# What is linked in: dependencies that are neither for tests nor for build scripts.
linked, waiting = set(), [metadata["resolve"]["root"]]
while waiting:
    here = waiting.pop()
    for dep in nodes[here]["deps"]:
        if any(kind["kind"] is None for kind in dep["dep_kinds"]) and dep["pkg"] not in linked:
            linked.add(dep["pkg"])
            waiting.append(dep["pkg"])

texts = {}
print("Built into hissward. Texts stand once, below, under the names of those who use them.\n")
for package in sorted((packages[one] for one in linked), key=lambda one: (one["name"], one["version"])):
    print(f"{package['name']} {package['version']}: {package['license']}")
    folder = pathlib.Path(package["manifest_path"]).parent
    for path in sorted(folder.iterdir()):
        name = path.name.upper()
        if path.is_file() and name.startswith(("LICENSE", "LICENCE", "COPYING", "NOTICE", "UNLICENSE")):
            text = path.read_text(encoding="utf-8", errors="replace").strip()
            texts.setdefault(text, []).append(f"{package['name']} {package['version']}")
for text, names in texts.items():
    print("\n" + "=" * 100 + "\n" + ", ".join(names) + "\n" + "=" * 100 + "\n\n" + text)
