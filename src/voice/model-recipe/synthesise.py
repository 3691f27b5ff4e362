"""Speech for training: texts said by espeak-ng and flite, called as libraries.

Needs Debian's libespeak-ng1, espeak-ng-data and libflite1. Voices that figures or
thresholds are taken from (src/cli/spoken-voices.ts, tests/bench) are not among these.
"""
import ctypes
import os
import random

import numpy as np
from scipy.signal import resample_poly

RATE = 16_000

ACCENTS = ["en-us", "gmw/en", "en-gb-scotland", "en-gb-x-rp"]
# Left out: reserved for figures (m4 f3 m6 f5 Andrea klatt4), for thresholds (m7 f4 m2),
# and those that no room would take for a person.
VARIANTS = """Alex Alicia Andy Annie AnxiousAndy Denis Diogo Gene Gene2 Henrique Hugo Jacky Lee
Marco Mario Michael Mike Nguyen RicishayMax RicishayMax2 RicishayMax3 Storm Tweaky adam anika
announcer antonio aunty belinda benjamin boris caleb croak david ed edward edward2 f1 f2
grandma grandpa gustave iven iven2 iven3 iven4 john kaukovalta klatt klatt2 klatt3 klatt5
klatt6 linda m1 m3 m5 m8 marcelo max michel miguel norbert pablo paul pedro quincy rob robert
robosoft2 robosoft5 sandro shelby steph steph2 steph3 travis victor whisper zac""".split()
FLITE_VOICES = ["kal", "kal16", "rms", "slt"]


class Espeak:
    """espeak-ng without a player: samples come through a callback."""

    CALLBACK = ctypes.CFUNCTYPE(
        ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.c_void_p
    )

    def __init__(self) -> None:
        self.lib = ctypes.CDLL("libespeak-ng.so.1")
        data = os.environ.get("ESPEAK_DATA")
        self.rate = self.lib.espeak_Initialize(2, 0, data.encode() if data else None, 0)
        self.parts: list[np.ndarray] = []
        self.callback = self.CALLBACK(self._take)
        self.lib.espeak_SetSynthCallback(self.callback)

    def _take(self, samples, count, _events) -> int:
        if samples and count > 0:
            self.parts.append(np.ctypeslib.as_array(samples, (count,)).copy())
        return 0

    def say(self, text: str, voice: str, speed: int, pitch: int, gap: int) -> np.ndarray:
        """Samples at RATE, -1 to 1; empty where the voice does not exist."""
        if self.lib.espeak_SetVoiceByName(voice.encode()) != 0:
            return np.zeros(0, np.float32)
        for parameter, value in ((1, speed), (3, pitch), (7, gap)):
            self.lib.espeak_SetParameter(parameter, value, 0)
        self.parts = []
        data = text.encode() + b"\0"
        self.lib.espeak_Synth(data, len(data), 0, 0, 0, 1, None, None)
        if not self.parts:
            return np.zeros(0, np.float32)
        pcm = np.concatenate(self.parts).astype(np.float32) / 32_768
        return resample_poly(pcm, 320, 441).astype(np.float32)  # 22,050 to 16,000 Hz


class Flite:
    """flite's voices, with slower or faster and higher or lower speech."""

    class Wave(ctypes.Structure):
        _fields_ = [
            ("type", ctypes.c_char_p), ("rate", ctypes.c_int), ("count", ctypes.c_int),
            ("channels", ctypes.c_int), ("samples", ctypes.POINTER(ctypes.c_short)),
        ]  # fmt: skip

    class Voice(ctypes.Structure):
        _fields_ = [("name", ctypes.c_char_p), ("features", ctypes.c_void_p)]

    def __init__(self) -> None:
        self.lib = ctypes.CDLL("libflite.so.1", mode=ctypes.RTLD_GLOBAL)
        self.lib.flite_init()
        self.lib.flite_text_to_wave.restype = ctypes.POINTER(self.Wave)
        self.lib.flite_text_to_wave.argtypes = [ctypes.c_char_p, ctypes.c_void_p]
        self.lib.delete_wave.argtypes = [ctypes.POINTER(self.Wave)]
        self.lib.feat_set_float = self.lib.flite_feat_set_float
        self.lib.feat_set_float.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_float]
        for name in ("usenglish", "cmulex"):
            ctypes.CDLL(f"libflite_{name}.so.1", mode=ctypes.RTLD_GLOBAL)
        self.voices = {}
        for name in FLITE_VOICES:
            lib = ctypes.CDLL(f"libflite_cmu_us_{name}.so.1", mode=ctypes.RTLD_GLOBAL)
            register = getattr(lib, f"register_cmu_us_{name}")
            register.restype = ctypes.POINTER(self.Voice)
            self.voices[name] = register(None)

    def say(self, text: str, voice: str, stretch: float) -> np.ndarray:
        chosen = self.voices[voice]
        self.lib.feat_set_float(chosen.contents.features, b"duration_stretch", stretch)
        wave = self.lib.flite_text_to_wave(text.encode(), chosen)
        found = wave.contents
        pcm = np.ctypeslib.as_array(found.samples, (found.count,)).astype(np.float32) / 32_768
        rate = found.rate
        self.lib.delete_wave(wave)
        return pcm if rate == RATE else resample_poly(pcm, RATE, rate).astype(np.float32)


def trim(pcm: np.ndarray) -> np.ndarray:
    """Cuts silence from both ends."""
    if len(pcm) < 800:
        return pcm[:0]
    loud = np.flatnonzero(np.abs(pcm) > 0.01 * np.abs(pcm).max())
    return pcm[loud[0] : loud[-1] + 1] if len(loud) else pcm[:0]


def spoken_form(text: str, rng: random.Random) -> str:
    """Pauses between digits now and then: people read sizes out slowly."""
    if rng.random() < 0.75:
        return text
    words = text.split(" ")
    return " ".join(word + ("," if rng.random() < 0.3 else "") for word in words)


def say_all(texts: list[str], seed: int, flite_part: float):
    """Yields (index, samples as int16) for every text that could be said."""
    rng = random.Random(seed)
    espeak, flite = Espeak(), Flite()
    for index, text in enumerate(texts):
        if rng.random() < flite_part:
            pcm = flite.say(
                spoken_form(text, rng), rng.choice(FLITE_VOICES), rng.uniform(0.8, 1.35)
            )
        else:
            voice = f"{rng.choice(ACCENTS)}+{rng.choice(VARIANTS)}"
            pcm = espeak.say(
                spoken_form(text, rng), voice, rng.randint(110, 210), rng.randint(15, 85),
                rng.choice([0, 0, 0, 1, 3, 8]),
            )  # fmt: skip
        pcm = trim(pcm)
        if 4_000 < len(pcm) < 8 * RATE:
            yield index, (pcm / np.abs(pcm).max() * 30_000).astype(np.int16)
