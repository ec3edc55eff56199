"""Thickness and weight of a lens by plain sums: sags of a sphere and a toroid, the edge looked at very
densely (by angle, by the curve's parameter and by its length), the weight from a fine grid.

  thickness.py new OUT [COUNT [SEED]]   writes random cases with their results
  thickness.py check FILE...            works the cases of each file again and says the differences
"""

import json
import math
import random
import sys

import numpy as np

LOOKS = 40_001


def matrix(rx):
    s, c = rx["sphere_d"], rx.get("cylinder_d", 0.0)
    a = math.radians(rx.get("axis_deg", 180.0))
    return np.array(
        [
            [s + c * math.sin(a) ** 2, -c * math.sin(a) * math.cos(a)],
            [-c * math.sin(a) * math.cos(a), s + c * math.cos(a) ** 2],
        ]
    )


def bisect(f, low, high):
    for _ in range(60):
        middle = (low + high) / 2
        if f(middle) < 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


class Outline:
    def __init__(self, a, b, ed):
        self.a, self.b = a / 2, b / 2
        # The parameter u runs through x = a cos^(2/p) u, y = b sin^(2/p) u; logarithms keep the
        # corner of a squarish shape in sight.
        u = np.linspace(0, math.pi / 2, 20_001)[1:-1]

        def longest(p):
            return 2 * np.max(np.hypot(self.a * np.cos(u) ** (2 / p), self.b * np.sin(u) ** (2 / p)))

        self.p = bisect(lambda p: longest(p) - ed, 2.0, 1000.0)

    def points(self):
        """Points of the whole edge: equal steps of the angle, of the parameter and of the length."""
        quarter = np.linspace(0, math.pi / 2, LOOKS)
        c, s = np.cos(quarter), np.sin(quarter)
        r = ((c / self.a) ** self.p + (s / self.b) ** self.p) ** (-1 / self.p)
        by_angle = np.array([r * c, r * s])
        by_parameter = np.array([self.a * np.abs(c) ** (2 / self.p), self.b * np.abs(s) ** (2 / self.p)])
        length = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(by_angle)))])
        steps = np.linspace(0, length[-1], LOOKS)
        angle = np.interp(steps, length, quarter)
        c, s = np.cos(angle), np.sin(angle)
        r = ((c / self.a) ** self.p + (s / self.b) ** self.p) ** (-1 / self.p)
        kinds = [by_angle, by_parameter, np.array([r * c, r * s])]
        return [
            np.concatenate([k * np.array([[i], [j]]) for i in (1, -1) for j in (1, -1)], axis=1)
            for k in kinds
        ]

    def grid(self, n=1000):
        """Points inside with the area of each: columns as high as the shape is there."""
        t = (np.arange(n) + 0.5) / n * math.pi - math.pi / 2
        x, dx = self.a * np.sin(t), self.a * np.cos(t) * math.pi / n
        high = self.b * (1 - np.abs(x / self.a) ** self.p) ** (1 / self.p)
        v = ((np.arange(n) + 0.5) / n * 2 - 1)[:, None]
        return np.broadcast_to(x, (n, n)), v * high, np.broadcast_to(dx * high * 2 / n, (n, n))


class Body:
    def __init__(self, q, centre_mm):
        n = q["index"]
        self.t = centre_mm
        self.front = q["base_d"] / (q.get("base_index", 1.530) - 1) / 1000
        front_d = self.front * 1000 * (n - 1)
        arriving = front_d / (1 - centre_mm / 1000 / n * front_d)
        k, e = np.linalg.eigh((matrix(q["rx"]) - arriving * np.eye(2)) / (1 - n) / 1000)
        self.circle, self.sweep, self.along, self.across = k[1], k[0], e[:, 1], e[:, 0]

    def thickness(self, x, y):
        front = sag(self.front, x * x + y * y)
        z = sag(self.circle, (x * self.along[0] + y * self.along[1]) ** 2)
        # Swung about an axis at a distance of the sweep's radius from the vertex.
        k = self.sweep / (1 - self.sweep * z)
        back = z + sag(k, (x * self.across[0] + y * self.across[1]) ** 2)
        return self.t + back - front


def sag(k, square):
    return k * square / (1 + np.sqrt(1 - k * k * square))


def work(q):
    """The result, and the edge's extremes by each way of looking and the thinnest anywhere."""
    nasal = 1.0 if q["eye"] == "right" else -1.0
    cx, cy = nasal * q["in_mm"], q["up_mm"]
    outline = Outline(q["frame"]["a_mm"], q["frame"]["b_mm"], q["frame"]["ed_mm"])
    kinds = outline.points()
    gx, gy, area = outline.grid()
    on_lens = abs(cx / outline.a) ** outline.p + abs(cy / outline.b) ** outline.p <= 1

    def edges(body):
        looked = [body.thickness(k[0] - cx, k[1] - cy) for k in kinds]
        return [(np.min(t), np.max(t)) for t in looked]

    def thinnest(body):
        edge = min(low for low, _ in edges(body))
        return min(edge, body.t) if on_lens else edge

    with np.errstate(invalid="ignore"):
        if "centre_mm" in q:
            centre = q["centre_mm"]
        else:
            centre = q["thinnest_mm"]
            for _ in range(60):  # the thinnest point rises nearly as much as the centre
                missing = q["thinnest_mm"] - thinnest(Body(q, centre))
                centre += missing
                if abs(missing) < 1e-11:
                    break
        body = Body(q, centre)
        looked = edges(body)
        inside = body.thickness(gx - cx, gy - cy)
        at = lambda x, y: float(body.thickness(x - cx, y - cy))
        result = {
            "centre_mm": centre,
            "edge_nasal_mm": at(nasal * outline.a, 0),
            "edge_temporal_mm": at(-nasal * outline.a, 0),
            "edge_top_mm": at(0, outline.b),
            "edge_bottom_mm": at(0, -outline.b),
            "edge_max_mm": float(max(h for _, h in looked)),
            "edge_min_mm": float(min(l for l, _ in looked)),
        }
        if "density" in q:
            result["weight_g"] = float(np.sum(inside * area)) * q["density"] / 1000
    if not all(map(math.isfinite, result.values())) or result["edge_min_mm"] < 0 or np.min(inside) < 0:
        return None
    return result, looked, float(np.min(inside)), outline.p


def random_case(rng, i):
    minus = rng.random() < 0.55
    sphere = -rng.uniform(0, 12) if minus else rng.uniform(0, 9)
    a = round(rng.uniform(38, 62))
    b = round(a * rng.uniform(0.55, 0.95))
    longest, diagonal = a, math.hypot(a, b)
    # From nearly an ellipse to nearly a rectangle.
    ed = round(longest + (diagonal - longest) * rng.uniform(0.03, 0.8), 1)
    q = {
        "id": f"thickness-more-{i}",
        "calc": "thickness",
        "eye": rng.choice(["right", "left"]),
        "rx": {
            "sphere_d": round(sphere * 4) / 4,
            "cylinder_d": -round(rng.uniform(0, 4) * 4) / 4,
            "axis_deg": rng.randint(1, 180),
        },
        "index": rng.choice([1.498, 1.523, 1.53, 1.586, 1.6, 1.67, 1.74]),
        "base_d": round(rng.uniform(0.5, 6) if minus else rng.uniform(4, 9), 2),
        "frame": {"a_mm": a, "b_mm": b, "ed_mm": ed},
        "in_mm": round(rng.uniform(-2, 7), 1),
        "up_mm": round(rng.uniform(-4, 6), 1),
        "density": rng.choice([1.11, 1.2, 1.3, 1.36, 2.54]),
    }
    if rng.random() < 0.5:
        q["thinnest_mm"] = round(rng.uniform(0.8, 2.2), 1)
    else:
        q["centre_mm"] = round(rng.uniform(1, 3) if minus else rng.uniform(5, 14), 1)
    return q


def new(out, count=200, seed=20261125):
    rng = random.Random(seed)
    cases, i, inner = [], 0, (0.0, "")
    while len(cases) < count:
        q = random_case(rng, i)
        i += 1
        worked = work(q)
        if worked is None:
            continue
        result, _, thinnest, _ = worked
        if "thinnest_mm" in q:
            inner = max(inner, (q["thinnest_mm"] - thinnest, q["id"]))
        result = {k: round(v, 7) for k, v in result.items()}
        cases.append({"request": q, "result": result, "tolerance": 0.0005})
    print(f"{i - count} of {i} left out; thinner inside than asked by at most {inner[0]:.2e} mm ({inner[1]})")
    source = f"plain sums, tests/reference/thickness.py, seed {seed}"
    with open(out, "w") as f:
        f.write('{"source": ' + json.dumps(source) + ', "cases": [\n')
        f.write(",\n".join(json.dumps(c) for c in cases) + "\n]}\n")


def check(path):
    cases = json.load(open(path))
    cases = cases["cases"] if isinstance(cases, dict) else cases
    worst = {}
    for case in cases:
        if case["request"]["calc"] != "thickness":
            continue
        worked = work(case["request"])
        if worked is None:
            print(case["request"]["id"], "cannot be made")
            continue
        result, looked, _, p = worked
        for key, wanted in case["result"].items():
            apart = abs(result[key] - wanted)
            worst[key] = max(worst.get(key, (0.0, "")), (apart, case["request"]["id"]))
            if apart > case["tolerance"]:
                print(f"{case['request']['id']} {key}: {wanted}, worked {result[key]:.6f} (p = {p:.3f}; "
                      f"by angle, parameter, length: {[f'{h:.6f}' for _, h in looked]})")
    print(path, {k: f"{v[0]:.1e} ({v[1]})" for k, v in worst.items()})


if __name__ == "__main__":
    if sys.argv[1] == "new":
        new(sys.argv[2], *map(int, sys.argv[3:]))
    else:
        for name in sys.argv[2:]:
            check(name)
