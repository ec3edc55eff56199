"""As-worn power of a lens by tracing rays with a general-purpose optical ray tracer (optiland).

Light arrives parallel from the object side and is followed through a sphere and a toroid to a plane
across the line of sight at the eye side. The direction on the object side is the one for which the
middle ray leaves straight ahead; rays a little beside it give the map from offsets to slopes.

  as_worn.py new OUT [COUNT [SEED]]   writes random cases with their traced results
  as_worn.py check FILE...            traces the cases of each file again and says the differences
"""

import json
import math
import random
import sys
import warnings

warnings.filterwarnings("ignore")  # of the compiler below, about itself

import numpy as np
from optiland.coordinate_system import CoordinateSystem
from optiland.geometries.standard import StandardGeometry
from optiland.geometries.plane import Plane
from optiland.geometries.toroidal import ToroidalGeometry
from optiland.materials import IdealMaterial
from optiland.propagation.homogeneous import HomogeneousPropagation
from optiland.rays import RealRays

# Straight lines without absorption, in air and in the lens alike.
AIR = HomogeneousPropagation(IdealMaterial(n=1.0))
BESIDE_MM = 0.02


def matrix(rx):
    s, c = rx["sphere_d"], rx.get("cylinder_d", 0.0)
    a = math.radians(rx.get("axis_deg", 180.0))
    return np.array(
        [
            [s + c * math.sin(a) ** 2, -c * math.sin(a) * math.cos(a)],
            [-c * math.sin(a) * math.cos(a), s + c * math.cos(a) ** 2],
        ]
    )


def minus_form(f):
    """Sphere, cylinder <= 0 and axis: the sphere lies along the axis, the greater principal power."""
    powers, directions = np.linalg.eigh((f + f.T) / 2)
    along = directions[:, 1]
    axis = math.degrees(math.atan2(along[1], along[0])) % 180.0
    return {
        "sphere_d": powers[1],
        "cylinder_d": powers[0] - powers[1],
        "axis_deg": axis if axis > 0 else 180.0,
    }


class Lens:
    """Surfaces in axes whose z runs with the light: x, y across, z = 0 at the back vertex."""

    def __init__(self, q):
        n, front_d, t = q["index"], q["front_d"], q["centre_mm"]
        self.index = n
        arriving = front_d / (1 - t / 1000 / n * front_d)
        back = (matrix(q["rx"]) - arriving * np.eye(2)) / (1 - n)  # curvatures per metre
        k, directions = np.linalg.eigh(back)
        # The circle of the greater curvature lies in the toroid's y-z plane.
        y_axis = directions[:, 1]
        x_axis = np.array([y_axis[1], -y_axis[0]])
        self.turn = np.array([x_axis, y_axis])  # lens x, y -> toroid x, y
        # A centre of curvature towards the eye, with the light, is a positive radius.
        radius = lambda c: 1000.0 / c if abs(c) > 1e-12 else np.inf
        here = CoordinateSystem(0, 0, 0, 0, 0, 0)
        self.back = ToroidalGeometry(
            here, radius_x=radius(k[0]), radius_y=radius(k[1]), tol=1e-13
        )
        self.front = (
            StandardGeometry(here, radius=1000.0 * (n - 1) / front_d)
            if abs(front_d) > 1e-12
            else Plane(here)
        )
        self.front_z = -t

    def through(self, points, direction):
        """Exit points and directions of parallel rays, in lens axes."""
        p = np.array(points, float)
        d = np.tile(direction / np.linalg.norm(direction), (len(p), 1))
        p, d = self.surface(self.front, self.front_z, np.eye(2), p, d, 1.0, self.index)
        return self.surface(self.back, 0.0, self.turn, p, d, self.index, 1.0)

    @staticmethod
    def surface(geometry, z, turn, p, d, before, after):
        xy, dxy = p[:, :2] @ turn.T, d[:, :2] @ turn.T
        ones = np.ones(len(p))
        rays = RealRays(
            xy[:, 0], xy[:, 1], p[:, 2] - z, dxy[:, 0], dxy[:, 1], d[:, 2], ones, 0.55 * ones
        )
        AIR.propagate(rays, geometry.distance(rays))
        rays.refract(*geometry.surface_normal(rays), before, after)
        out_p = np.column_stack([np.column_stack([rays.x, rays.y]) @ turn, rays.z + z])
        out_d = np.column_stack([np.column_stack([rays.L, rays.M]) @ turn, rays.N])
        return out_p, out_d


def axes_of(q):
    """Lens x and y axes and the axis with the light, in the same kind of axes of the head."""
    nasal = 1.0 if q["eye"] == "right" else -1.0
    f, p = math.radians(q["face_form_deg"]), math.radians(q["pantoscopic_deg"])
    # x right of someone facing the wearer, y up, z from the eye to the object.
    vertical = np.array(
        [
            [math.cos(f), 0, -nasal * math.sin(f)],
            [0, 1, 0],
            [nasal * math.sin(f), 0, math.cos(f)],
        ]
    )
    level = np.array(
        [[1, 0, 0], [0, math.cos(p), -math.sin(p)], [0, math.sin(p), math.cos(p)]]
    )
    turned = level @ vertical  # columns: lens axes in head axes
    mirror = np.diag([1.0, 1.0, -1.0])
    return nasal, mirror @ turned @ mirror


def trace(q):
    """The as-worn power and prism of a request, or None where a ray does not get through."""
    nasal, to_head = axes_of(q)
    lens = Lens(q)
    sight = to_head.T @ np.array([0.0, 0.0, 1.0])  # towards the eye, in lens axes
    # The line of sight meets the lens plane at the origin of the head's axes.
    meets = np.array([-nasal * q.get("oc_in_mm", 0.0), -q.get("oc_up_mm", 0.0), 0.0])
    in_head = lambda v: v @ to_head.T

    def exits(offsets, slope):
        """Places and slopes at the eye side of rays that arrive with one slope (head axes)."""
        arriving = to_head.T @ np.array([slope[0], slope[1], 1.0])
        starts = [
            meets + to_head.T @ np.array([o[0], o[1], 0.0]) - 60.0 * arriving for o in offsets
        ]
        p, d = lens.through(starts, arriving)
        p, d = in_head(p - meets), in_head(d)
        slopes = d[:, :2] / d[:, 2:]
        return p, slopes

    # Newton's method for the ray that leaves along the line of sight, through the origin.
    aim = np.zeros(4)  # offset of the start, slope on arrival

    def leaves(aim):
        p, s = exits([aim[:2]], aim[2:])
        at_plane = p[0, :2] - s[0] * p[0, 2]
        return np.concatenate([at_plane, s[0]])

    for _ in range(60):
        here = leaves(aim)
        if not np.all(np.isfinite(here)):
            return None
        if np.max(np.abs(here)) < 1e-13:
            break
        steps = np.array([1e-3, 1e-3, 1e-5, 1e-5])
        columns = []
        for i, h in enumerate(steps):
            e = np.zeros(4)
            e[i] = h
            columns.append((leaves(aim + e) - leaves(aim - e)) / (2 * h))
        move = np.linalg.solve(np.array(columns).T, here)
        aim = aim - move
        if np.max(np.abs(move)) < 1e-13:
            break
    else:
        return None
    if np.max(np.abs(leaves(aim))) > 1e-9:
        return None
    h = BESIDE_MM
    offsets = [aim[:2] + np.array(o) for o in ((0, 0), (h, 0), (-h, 0), (0, h), (0, -h))]
    p, s = exits(offsets, aim[2:])
    if not (np.all(np.isfinite(p)) and np.all(np.isfinite(s))):
        return None
    # The plane across the line of sight through the middle ray's point on the back surface.
    places = p[:, :2] - s * (p[:, 2:] - p[0, 2])
    place = np.array([places[1] - places[2], places[3] - places[4]]).T
    slope = np.array([s[1] - s[2], s[3] - s[4]]).T
    power = -1000.0 * slope @ np.linalg.inv(place)  # converging light has falling slopes
    # Seen from the eye outwards the middle ray leaves towards the object against the light.
    prism = {
        "base_in_delta": -nasal * 100.0 * aim[2],
        "base_up_delta": -100.0 * aim[3],
    }
    return power, prism


def random_case(rng, i):
    minus = rng.random() < 0.5
    sphere = -rng.uniform(0.25, 12) if minus else rng.uniform(0.25, 12)
    return {
        "id": f"more-{i}",
        "calc": "as_worn",
        "eye": rng.choice(["right", "left"]),
        "rx": {
            "sphere_d": round(sphere * 4) / 4,
            "cylinder_d": -round(rng.uniform(0, 4) * 4) / 4,
            "axis_deg": rng.randint(1, 180),
        },
        "index": rng.choice([1.498, 1.523, 1.53, 1.586, 1.6, 1.67, 1.74, 1.885]),
        "front_d": round(rng.uniform(0, 6), 2) if minus else round(rng.uniform(3, 12), 2),
        "centre_mm": round(rng.uniform(1, 3.5) if minus else rng.uniform(3, 9), 1),
        "pantoscopic_deg": round(rng.uniform(-8, 20), 1),
        "face_form_deg": round(rng.uniform(-4, 20), 1),
        "oc_in_mm": round(rng.uniform(-6, 6), 1),
        "oc_up_mm": round(rng.uniform(-6, 6), 1),
    }


def new(out, count=200, seed=20261125):
    rng = random.Random(seed)
    cases, i = [], 0
    while len(cases) < count:
        q = random_case(rng, i)
        i += 1
        traced = trace(q)
        if traced is None:
            print(f"{q['id']}: no ray gets through, left out")
            continue
        power, prism = traced
        rx = {k: round(v, 6) for k, v in minus_form(power).items()}
        result = {"rx": rx} | {k: round(v, 6) for k, v in prism.items()}
        cases.append({"request": q, "result": result, "tolerance": 0.0005})
    source = "optiland 0.6.3 (PyPI, MIT), tests/reference/as_worn.py, seed " + str(seed)
    with open(out, "w") as f:
        f.write('{"source": ' + json.dumps(source) + ', "cases": [\n')
        f.write(",\n".join(json.dumps(c) for c in cases) + "\n]}\n")


def check(path):
    worst, worst_prism, missing = (0.0, ""), (0.0, ""), 0
    cases = json.load(open(path))["cases"]
    for case in cases:
        traced = trace(case["request"])
        if traced is None:
            missing += 1
            continue
        power, prism = traced
        apart = np.max(np.abs(np.linalg.eigvalsh(
            (power + power.T) / 2 - matrix(case["result"]["rx"]))))
        worst = max(worst, (apart, case["request"]["id"]))
        for k, v in prism.items():
            if k in case["result"]:
                worst_prism = max(worst_prism, (abs(v - case["result"][k]), case["request"]["id"]))
    print(f"{path}: {len(cases)} cases, {missing} not traced, largest difference {worst[0]:.2e} D "
          f"({worst[1]}), prism {worst_prism[0]:.2e} ({worst_prism[1]})")


if __name__ == "__main__":
    if sys.argv[1] == "new":
        new(sys.argv[2], *map(int, sys.argv[3:]))
    else:
        for name in sys.argv[2:]:
            check(name)
