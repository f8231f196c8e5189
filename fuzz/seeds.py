"""Makes the first inputs of the fuzz targets. Run in fuzz/ with a built `hissward` on the path; PIL draws the logos.

Recordings begin from fixtures/audio, which `make fuzz` hands to the fuzzer as they are.
"""

import io
import json
import pathlib
import struct
import subprocess
import tempfile

from PIL import Image

CORPUS = pathlib.Path(__file__).parent / "corpus"


def put(target: str, name: str, content: bytes | str) -> None:
    folder = CORPUS / target
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_bytes(content.encode() if isinstance(content, str) else content)


def hissward(*arguments: str, cwd: str) -> None:
    subprocess.run(["hissward", "--quiet", *arguments], cwd=cwd, check=True, capture_output=True)


def audio() -> None:
    fixtures = pathlib.Path(__file__).parent.parent / "fixtures/audio"
    for name in ["speech.amr", "not-a-number.wav", "absurd-rate.wav", "wav-8k.wav", "speech-amr.3gp"]:
        put("audio", name, (fixtures / name).read_bytes())


def job_and_pack() -> None:
    with tempfile.TemporaryDirectory() as folder:
        hissward("new", "tiny", "--engine", "workboat", "--cylinders", "3", "--firing-order", "1-3-2",
                 "--restrictor", "0.040in", cwd=folder)
        hissward("rig", "tiny", "--supply", "80psi", "--held", "79psi", cwd=folder)
        hissward("gauge", "tiny", "--cylinder", "2", "--supply", "80psi", "--held", "60psi", cwd=folder)
        hissward("pack", "tiny", "--unsigned", cwd=folder)
        put("pack", "tiny", pathlib.Path(folder, "tiny-pack.zip").read_bytes())
        put("job_toml", "tiny", pathlib.Path(folder, "tiny/job.toml").read_bytes())
        hissward("demo", "--out", "demo", cwd=folder)
        text = pathlib.Path(folder, "demo/job.toml").read_text()
        parts = text.split("\n\n")
        put("job_toml", "clips", "\n\n".join(parts[:8]))
        ranking = json.loads(pathlib.Path(folder, "demo/results/ranking.json").read_text())
        for result in ranking["results"]:
            for opening in result["openings"]:
                opening["bands"] = opening["bands"][:1]
        put("kept_ranking", "demo", json.dumps(ranking))
        ranking["results"] = []
        put("kept_ranking", "none", json.dumps(ranking))
        put("kept_ranking", "newer", json.dumps({"format": 2, "results": []}))
    record = CORPUS / "job_toml"
    put("job_toml", "edited", """# slip 3
format=1
cycle = 'two-stroke'   # ours
engine = "Three-cylinder petrol, workboat"
cylinders = 3
firing_order = [1,
  3, # middle one
  2]
firing_angles_deg = [0, 100, 250.5]
banks = [[1, 3], [2]]
berth = "slip 3"
temperature = "cold"
rig = { supply_kpa = 552, held_kpa = 5.3e2 }
[[gauge]]
cylinder = 2
cold = false
supply_kpa = 552
held_kpa = 414
when = 2026-11-25T08:40:00+01:00
[limits]
loss_percent = 20
spread_percent = 10
source = "manual, p. 41"
[[gauge]]
cylinder = 3
loss_percent = 9.50
[[skipped]]
step = "clip"
cylinder = 1
opening = "intake"
air = "keyed"
reason = "bolted shut"
# last line
""")
    put("job_toml", "newer", "format = 2\nengine = 'x'\ncylinders = 4\n")
    assert record.is_dir()
    whole = (CORPUS / "pack/tiny").read_bytes()
    put("pack", "cut", whole[: len(whole) // 2])
    put("pack", "altered", whole.replace(b"workboat", b"rowboat!"))


def pack_names() -> None:
    job = "format = 1 engine = 'x' cylinders = 1"
    put("pack_names", "a-job", f"job.toml\n{job}\nclips/a.wav\nRIFF\nresults/b.json\n{{}}\n")
    put("pack_names", "up", "../up\nx\n/etc/x\ny\nclips/../../z\nz\n")
    put("pack_names", "odd", "clips/\nx\nclips/a\\b\ny\nC:x\nz\nclips/a\na\nclips/A\nb\n.hidden\nc\n")
    put("pack_names", "file-and-folder", "clips\nx\nclips/a\ny\nresults\nz\n")


def quantities() -> None:
    texts = ["100psi", "6,9 bar", "0.69 MPa", "1,000", "−5 kPa", "29.92inHg", "0.040in", "1,0 mm", '0.040"', "68F",
             "20 °C", "12,5 %", "120%", "plug-hole-2", "oil-filler", "off", "1-3-2", "0,270,450", "1-3,2-4",
             "c2-oil-filler-on-t1.wav", "clips/c2-oil-filler-on-t1.wav", "2026-11-25T09:15:00+01:00[Europe/Berlin]",
             "ab" * 32, "7 kgf/cm2", "5 bara", "1e400 psi", "0,040 in"]
    for number, text in enumerate(texts):
        put("quantities", f"text-{number:02}", text)


def settings() -> None:
    put("settings", "whole", 'format = 1\n# ours\n[shop]\nname = "Pier Yard"\naddress = ["2 Quay Street", "Sandhaven"]\n'
        'logo = "logo.png"\ntext = "Thanks."\nmotto = "dry feet"\n[report]\nlanguage = "de"\npaper = "a4"\nunits = "psi"\n')
    put("settings", "newer", "format = 2\n")
    put("settings", "dotted", 'shop.name = "x"\nreport = { paper = "letter" }\n')


def logo() -> None:
    for kind, mode in [("PNG", "RGBA"), ("PNG", "P"), ("PNG", "1"), ("JPEG", "RGB"), ("JPEG", "L")]:
        out = io.BytesIO()
        Image.effect_noise((9, 7), 40).convert("RGB").convert(mode).save(out, kind)
        put("logo", f"{kind.lower()}-{mode.lower()}", out.getvalue())
    out = io.BytesIO()
    Image.effect_noise((9, 7), 40).convert("RGB").save(out, "JPEG", progressive=True)
    put("logo", "jpeg-progressive", out.getvalue())
    # A picture of 65,535 × 65,535 pixels in 60 bytes, as its header says.
    png = (CORPUS / "logo/png-rgba").read_bytes()
    put("logo", "png-huge", png[:16] + struct.pack(">II", 65535, 65535) + png[24:])


def sound() -> None:
    noise = bytes((n * 7919 ^ n >> 3) & 255 for n in range(3000))
    put("sound", "noise", b"\x02\x00" + noise)
    put("sound", "silence", b"\x02\x00" + bytes(600))
    put("sound", "square", b"\x02\x04" + struct.pack("<6h", 32767, 32767, -32768, -32768, 32767, -32768) * 20)
    put("sound", "impulse", b"\x00\x01" + struct.pack("<300h", *([32767] + [0] * 299)))


def uploads() -> None:
    piece = bytes(40)
    put("uploads", "begin-piece-finish", bytes([0, 0, 1, 9]) + bytes(36) + bytes([3, 3]))
    put("uploads", "killed", bytes([0, 9, 1, 9]) + bytes(36) + bytes([5, 0, 1, 12]) + piece + bytes([3, 6, 3, 6]))
    put("uploads", "journal", bytes([0, 0, 6, 4]) + b'{"entries":[]}  ' + bytes([4, 0, 0, 2, 4, 2]))
    put("uploads", "no-number", bytes([0, 0, 1, 3]) + struct.pack("<3f", float("nan"), 1, 2) + bytes([7, 3]) + b"abc")


for make in [audio, job_and_pack, pack_names, quantities, settings, logo, sound, uploads]:
    make()
