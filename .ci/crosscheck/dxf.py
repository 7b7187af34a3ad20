"""ezdxf opens and audits each DXF; in walls.dxf it measures every piece and joint and compares with takeoff.json,
in plan.dxf it looks for every wall at its place and everything that stands there and is not taken off.
usage: dxf.py TAKEOFF.json|- FILE.dxf..."""
import json, math, os, sys
import ezdxf

bad = 0
for path in sys.argv[2:]:
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    msp = doc.modelspace()
    print(f'  {os.path.basename(path)}: {len(msp)} entities, {len(audit.errors)} errors, {len(audit.fixes)} repairs, $INSUNITS {doc.header["$INSUNITS"]}')
    bad += len(audit.errors) + len(audit.fixes)
    if sys.argv[1] != '-' and os.path.basename(path) == 'walls.dxf':
        take = json.load(open(sys.argv[1]))
        mm = {1: 25.4, 4: 1.0}[doc.header['$INSUNITS']]

        def area(pts):
            return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(pts, pts[1:] + pts[:1]))) / 2

        drawn = sorted(area([(p[0] * mm, p[1] * mm) for p in e.get_points('xy')]) for e in msp.query('LWPOLYLINE[layer=="A-BORD-PNLS"]'))
        told = sorted(area(p['outline_uv']) for p in take['pieces'])
        if len(drawn) != len(told) or any(abs(a - b) > 1 + 1e-6 * b for a, b in zip(drawn, told)):
            print(f'  walls.dxf: {len(drawn)} pieces of {sum(drawn)/1e6:.4f} m2 drawn, takeoff.json has {len(told)} of {sum(told)/1e6:.4f}')
            bad += 1
        drawn = sorted(sum(math.dist(a, b) for a, b in zip(q, q[1:])) * mm for e in msp.query('LWPOLYLINE[layer=="A-BORD-JNTS"]') for q in [list(e.get_points('xy'))])
        told = sorted(math.dist(j['from_uv'], j['to_uv']) for j in take['joints'])
        if len(drawn) != len(told) or any(abs(a - b) > 0.01 for a, b in zip(drawn, told)):
            print(f'  walls.dxf: {len(drawn)} joints of {sum(drawn):.1f} mm drawn, takeoff.json has {len(told)} of {sum(told):.1f}')
            bad += 1
    if sys.argv[1] != '-' and os.path.basename(path) == 'plan.dxf':
        take = json.load(open(sys.argv[1]))
        mm = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}[doc.header['$INSUNITS']]
        left = ('A-BORD-WALL-E', 'A-BORD-WALL-D', 'A-BORD-WALL-OUTS', 'A-BORD-OBST')
        walls, stand = [], []
        for e in msp.query('LWPOLYLINE'):
            if e.closed and e.dxf.layer.startswith(left):
                stand.append(e)
            elif e.closed and e.dxf.layer.startswith('A-BORD-WALL'):
                walls.append([(p[0] * mm, p[1] * mm) for p in e.get_points('xy')])
        told = [s for s in take.get('standing', []) if len(s['outline_mm']) > 2]
        if len(walls) != len(take['runs']) or len(stand) != len(told):
            print(f'  plan.dxf: {len(walls)} walls and {len(stand)} things not taken off drawn, takeoff.json has {len(take["runs"])} and {len(told)}')
            bad += 1
        # Every straight wall's axis runs through the middle of one of the outlines.
        mids = [tuple(sum(c) / len(w) for c in zip(*w)) for w in walls if len(w) == 4]
        for r in take['runs']:
            if 'arc' in r:
                continue
            (ax, ay), (bx, by) = r['axis_mm'][0], r['axis_mm'][-1]
            if min(math.dist(((ax + bx) / 2, (ay + by) / 2), m) for m in mids) > 0.5:
                print(f'  plan.dxf: no wall is drawn where {r["id"]} stands')
                bad += 1
sys.exit(1 if bad else 0)
