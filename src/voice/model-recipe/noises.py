"""What stands between a speaker and the listener, made on the accelerator for each batch anew:
speed, echo, colour of the microphone, noise, level. All shapes are [B, samples]."""
import math

import torch

RATE = 16_000


def warp_speed(flat, offsets, lengths, most, factor):
    """Takes clips out of one long row of samples, faster or slower (pitch goes with it)."""
    at = torch.arange(most, device=flat.device)[None].float() * factor[:, None]
    inside = at < (lengths[:, None] - 1)
    low = at.long().clamp(max=(lengths.max() - 1))
    low = torch.minimum(low, lengths[:, None] - 2).clamp(min=0)
    part = at - low.float()
    a = flat[offsets[:, None] + low].float()
    b = flat[offsets[:, None] + low + 1].float()
    out = (a + (b - a) * part.clamp(0, 1)) / 32_768
    return torch.where(inside, out, torch.zeros_like(out)), (lengths.float() / factor).long().clamp(max=most)


def room_echo(x, rng):
    """Convolves with a decaying noise behind a direct sound; half a second at most."""
    batch, n = x.shape
    size = RATE // 2
    rt60 = torch.rand(batch, 1, device=x.device) * 0.5 + 0.1
    t = torch.arange(size, device=x.device)[None] / RATE
    tail = torch.randn(batch, size, device=x.device) * torch.exp(-6.9 * t / rt60)
    tail[:, : int(0.002 * RATE)] = 0
    tail = tail / tail.norm(dim=1, keepdim=True)
    wet = 10 ** (-(torch.rand(batch, 1, device=x.device) * 14 - 2) / 20)
    tail = tail * wet
    tail[:, 0] = 1
    total = 2 ** math.ceil(math.log2(n + size))
    return torch.fft.irfft(torch.fft.rfft(x, total) * torch.fft.rfft(tail, total), total)[:, :n]


def colour(x):
    """A random tilt, a high-pass and now and then a telephone's band."""
    batch, n = x.shape
    f = torch.fft.rfftfreq(n, 1 / RATE, device=x.device)[None]
    octaves = torch.log2((f + 30) / 1000)
    tilt = (torch.rand(batch, 1, device=x.device) - 0.5) * 8
    ripple = torch.sin(octaves * (torch.rand(batch, 1, device=x.device) * 3 + 1) + torch.rand(batch, 1, device=x.device) * 6)
    db = tilt * octaves + ripple * torch.rand(batch, 1, device=x.device) * 4
    low = torch.rand(batch, 1, device=x.device) * 250 + 20
    db = db - 40 * torch.log10(1 + (low / (f + 1)) ** 2) / 2
    edge = torch.where(torch.rand(batch, 1, device=x.device) < 0.3,
                       torch.rand(batch, 1, device=x.device) * 2500 + 3200, torch.full((batch, 1), 9000.0, device=x.device))
    db = db - 60 * torch.sigmoid((f - edge) / 120)
    return torch.fft.irfft(torch.fft.rfft(x) * 10 ** (db / 20), n)


def shaped(batch, n, device, slope, low=20.0, high=8000.0):
    """Noise with so many dB an octave, within a band."""
    f = torch.fft.rfftfreq(n, 1 / RATE, device=device)[None]
    gain = (f + 20) ** (slope / 6.02) * torch.sigmoid((f - low) / 40) * torch.sigmoid((high - f) / 200)
    return torch.fft.irfft(torch.fft.rfft(torch.randn(batch, n, device=device)) * gain, n)


def make_noise(x, speech):
    """One kind for each row: steady, hiss, hum, drill, hammer, beeps, babble."""
    batch, n = x.shape
    device = x.device
    slope = -torch.rand(batch, 1, device=device) * 6
    high = torch.rand(batch, 1, device=device) * 6000 + 2000
    steady = shaped(batch, n, device, slope, 20.0, high)
    hiss = shaped(batch, n, device, torch.rand(batch, 1, device=device) * 4, 400.0, 8000.0)
    t = torch.arange(n, device=device)[None] / RATE
    pitch = torch.rand(batch, 1, device=device) * 200 + 60
    wobble = torch.cumsum(pitch * (1 + 0.05 * torch.sin(2 * math.pi * t * (torch.rand(batch, 1, device=device) * 4 + 0.3))), 1) / RATE
    drill = (wobble % 1) - 0.5 + 0.3 * torch.randn(batch, n, device=device) * torch.rand(batch, 1, device=device)
    drill = drill * (0.6 + 0.4 * torch.sign(torch.sin(2 * math.pi * t * (torch.rand(batch, 1, device=device) * 1.5 + 0.2))))
    period = torch.rand(batch, 1, device=device) * 0.6 + 0.3
    phase = (t + torch.rand(batch, 1, device=device)) % period
    ring = torch.sin(2 * math.pi * phase * (torch.rand(batch, 1, device=device) * 2500 + 400))
    hammer = torch.exp(-phase * 40) * (torch.randn(batch, n, device=device) + 2 * ring) + 0.02 * steady / steady.std()
    beat = (t + torch.rand(batch, 1, device=device)) % (torch.rand(batch, 1, device=device) * 0.7 + 0.5)
    beeps = (beat < 0.12).float() * torch.sin(2 * math.pi * t * (torch.rand(batch, 1, device=device) * 1200 + 400)) + 0.02 * steady / steady.std()
    voices = torch.zeros_like(x)
    for _ in range(4):
        order = torch.randperm(batch, device=device)
        voices = voices + torch.roll(speech[order], int(torch.randint(0, n, (1,))), 1) * (torch.rand(batch, 1, device=device) * 0.8 + 0.2)
    one = torch.roll(speech[torch.randperm(batch, device=device)], int(torch.randint(0, n, (1,))), 1)
    kinds = torch.stack([steady, hiss, drill, hammer, beeps, voices, voices + steady * voices.std() / steady.std(), steady + drill * 0.5])
    pick = torch.randint(0, len(kinds), (batch,), device=device)
    noise = kinds[pick, torch.arange(batch, device=device)]
    return noise / noise.pow(2).mean(1, keepdim=True).sqrt().clamp(min=1e-6)


def narrow(x):
    """A telephone's 8 kHz: nothing above 3.3 to 4 kHz."""
    f = torch.fft.rfftfreq(x.shape[1], 1 / RATE, device=x.device)[None]
    edge = torch.rand(x.shape[0], 1, device=x.device) * 700 + 3300
    return torch.fft.irfft(torch.fft.rfft(x) * torch.sigmoid((edge - f) / 30), x.shape[1])


def disturb(x, lengths, strength=1.0, loose=False):
    """What arrives at the listener: cut, levelled and padded; loosely where the ear's cut is taken as it is."""
    batch, n = x.shape
    device = x.device
    coin = lambda p: (torch.rand(batch, 1, device=device) < p).float()  # noqa: E731
    speech = x / x.pow(2).sum(1, keepdim=True).div(lengths[:, None].float()).sqrt().clamp(min=1e-6)
    wet = room_echo(speech, None)
    mix = coin(0.45 * strength)
    y = mix * wet + (1 - mix) * speech
    mix = coin(0.6 * strength)
    y = mix * colour(y) + (1 - mix) * y
    if loose:
        mix = coin(0.25 * strength)
        y = mix * narrow(y) + (1 - mix) * y
    y = y / y.pow(2).sum(1, keepdim=True).div(lengths[:, None].float()).sqrt().clamp(min=1e-6)
    snr = torch.rand(batch, 1, device=device) * 28 + 1
    noise = make_noise(y, speech) * 10 ** (-snr / 20) * coin(0.8 * strength)
    # A little of the room stays before and after the words; beyond that the product puts quiet.
    room = 0.8 if loose else 0.35
    lead = (torch.rand(batch, device=device).sub(0.3).clamp(min=0) * room * RATE).long()
    tail = (torch.rand(batch, device=device).sub(0.3).clamp(min=0) * room * RATE).long()
    quiet = torch.full((batch,), 7_200, device=device)
    if loose:
        quiet = (torch.rand(batch, device=device).sub(0.3).clamp(min=0) * 10_000).long()
    total = int((lengths + lead + tail + 2 * quiet).max()) if loose else n + 14_400 + RATE // 2
    at = torch.arange(total, device=device)[None] - (quiet + lead)[:, None]
    take = lambda s: torch.gather(s, 1, at.clamp(0, n - 1))  # noqa: E731
    said = torch.where((at >= 0) & (at < lengths[:, None]), take(y), torch.zeros(1, device=device))
    wide = torch.gather(noise, 1, (at % n))
    heard = (at >= -lead[:, None]) & (at < (lengths + tail)[:, None])
    z = torch.where(heard, said + wide, torch.zeros(1, device=device))
    level = 10 ** (torch.randn(batch, 1, device=device) * (5 if loose else 1.5) / 20)
    loud = z.pow(2).unfold(1, 160, 160).mean(2)
    k = (lengths // 1600).clamp(min=1)
    ranked = loud.sort(1, descending=True).values.cumsum(1)
    rms = (torch.gather(ranked, 1, (k - 1)[:, None]) / k[:, None]).sqrt().clamp(min=1e-6)
    z = z / rms * 0.08 * level + (torch.rand(z.shape, device=device) * 2 - 1) * 2e-4
    return z.clamp(-1, 1) * 32_768, lengths + lead + tail + 2 * quiet
