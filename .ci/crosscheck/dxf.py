"""ezdxf opens and audits each DXF; in walls.dxf it measures every piece and joint and compares with takeoff.json.
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
sys.exit(1 if bad else 0)
