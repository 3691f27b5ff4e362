"""What is said for training: commands, words in any order, and talk meant for nobody.

Words of the built-in procedures are told apart; every other word counts as "other".
"""
import random

# Ways of addressing the wall that were studied; docs/voice.md.
ADDRESSES = [
    "theatre wall", "theatre wall", "theatre wall", "theatre wall", "theatre wall", "",
    "hello wall", "attention wall", "listen wall", "dear wall", "wall please", "team wall",
    "theatre record",
]  # fmt: skip

DIGITS = "zero one two three four five six seven eight nine".split()

# Talk in a theatre, our own invention.
THEATRE_TALK = """
could we have the light a little lower please
swab please and another one
is the next patient on the way down
can you turn the suction up a bit
what is the blood pressure now
i think we are nearly there
pass me the long forceps
that looks better than last week
who has the phone for the ward
let us wait a moment for anaesthesia
how is the saturation over there
we need more irrigation on this side
did anyone see my glasses
the table can go down a bit
keep your hand exactly there
a little more traction please
thank you that is lovely
shall we close now or wait
the drill battery is flat again
can someone open another pack of sutures
i will need the small retractor in a minute
it was raining when i came in
count to ten and then let go
the wall behind you needs painting
theatre three is still cleaning
confirm that with the ward please
the depth of this is hard to see
two more and then we are done
what was the size last time
next time we do it the other way
step back a little please
there is something wrong with the lamp
read me the list again later
how long have we been going
hold this and do not let go
""".strip().split("\n")


def split_words(text: str) -> list[str]:
    """As src/voice/grammar/grammar.ts does: lower case, hyphens part words."""
    return text.lower().replace("-", " ").split()


def make_texts(count: int, phrases: list[str], talk: list[str], dictionary: list[str], seed: int):
    """A list of texts: half are commands, a fifth words in any order, the rest talk."""
    rng = random.Random(seed)
    words = sorted({word for phrase in phrases for word in split_words(phrase)})
    texts = []
    for _ in range(count):
        kind = rng.random()
        address = rng.choice(ADDRESSES)
        if kind < 0.06:
            parts = rng.choices(words if rng.random() < 0.5 else DIGITS, k=rng.choice([1, 1, 2]))
        elif kind < 0.5:
            parts = [address, rng.choice(phrases)]
        elif kind < 0.57:
            number = rng.choices(DIGITS, k=rng.randint(1, 4))
            stem = rng.choice(phrases).split(" ")[0]
            parts = [address, stem if rng.random() < 0.7 else "", *number]
        elif kind < 0.72:
            parts = [address, *rng.choices(words, k=rng.randint(1, 5))]
        elif kind < 0.82:
            parts = [rng.choice(talk if rng.random() < 0.75 else THEATRE_TALK)]
            if rng.random() < 0.2:
                parts.insert(0, address)
        elif kind < 0.92:
            parts = rng.choices(dictionary, k=rng.randint(2, 6))
        else:
            mixed = rng.choices(words, k=rng.randint(1, 3)) + rng.choices(dictionary, k=rng.randint(1, 3))
            rng.shuffle(mixed)
            parts = [address, *mixed]
        text = " ".join(part for part in parts if part)
        if text:
            texts.append(" ".join(split_words(text)))
    return texts
