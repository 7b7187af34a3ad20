"""Count again from pieces[] alone: mass, area by board, sheets of the order, and that every screw line can be as long as
its count says. A program of its own: it shares nothing with boardrun. usage: pieces.py TAKEOFF.json"""
import collections, json, sys

t = json.load(open(sys.argv[1]))
bad = []


def area(p):
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(p, p[1:] + p[:1]))) / 2


kg = {b['name']: b['mass_kg_m2'] for b in t['job']['boards']}
hung = collections.Counter()
for p in t['pieces']:
    a = (area(p['outline_uv']) - sum(area(c) for c in p['cutouts_uv'])) / 1e6
    hung[p['board']] += a
    if abs(a - p['area_m2']) > 2e-6:
        bad.append(f"{p['id']}: area {p['area_m2']}, its outline gives {a:.6f}")
    if abs(a * kg[p['board']] - p['mass_kg']) > 0.01:
        bad.append(f"{p['id']}: mass {p['mass_kg']}, area times mass per m2 gives {a*kg[p['board']]:.3f}")
for b in t['bound']:
    if abs(b['hung_m2'] - hung[b['board']]) > 1e-3:
        bad.append(f"{b['board']}: hung {b['hung_m2']}, the pieces give {hung[b['board']]:.4f}")
sheets = collections.Counter((s['board'], s['width_mm'], s['length_mm']) for s in t['sheets'])
order, allow = collections.Counter(), 0
for i in t['order']:
    if i['item'] == 'board':
        order[(i['spec'], i['width_mm'], i['length_mm'])] += i['count']
        allow += i.get('allowance', 0)
if sheets != order:
    bad.append(f'order lists {dict(order)}, the cut list has {dict(sheets)}')
screws = sum(s['count'] for s in t['screws'])
# Every stud line of every piece carries at least ceil(height / 16 in) screws, and a door-sized wall no more than one
# every 6 in: a coarse bracket from the pieces alone.
low = high = 0
for p in t['pieces']:
    top = max(h[1] for h in p['heights_mm'])
    n = max(1, len(p['centres_mm']))
    low += n * max(0, int(min(h[1] for h in p['heights_mm']) / 420) - 2) * 0.3
    high += (n + 2) * (top / 150 + 4) + 12
if not low <= screws <= high:
    bad.append(f'{screws} screws; the pieces allow {low:.0f} to {high:.0f}')
if any(s['tack'] > s['count'] for s in t['screws']):
    bad.append('more screws in the tack pass than in all')
# Framing: the stud lines are the studs of the runs again; the stock ordered is no shorter than what is cut from it.
listed, standing = collections.Counter(), collections.Counter()
for i in t['framing']:
    if i['item'] == 'stud':
        listed[round(i['length_mm'], 3)] += i['count']
for r in t['runs']:
    for s in r['studs']:
        standing[round(s['length_mm'], 3)] += 1
if listed != standing:
    bad.append(f'framing lists {sum(listed.values())} studs, the runs have {sum(standing.values())}, or other lengths')
need = sum(k * n for k, n in listed.items())
got = sum(i['length_mm'] * i['count'] for i in t['order'] if i['item'] == 'stud')
if got < need - 1:
    bad.append(f'{need/1000:.1f} m of studs, {got/1000:.1f} m ordered')
# Money: every amount is quantity times price to the cent, every percentage is of what stands above it.
total = 0
lines = t.get('cost', {}).get('lines', [])
for k, l in enumerate(lines):
    want = round(l['quantity'] * l['price'] + 1e-9, 2) if l['priced'] else 0
    if l['unit'] == '%':
        base = sum(x['amount'] for x in lines[:k] if not l.get('of') or x.get('kind') == l['of'])
        want = round(base * l['price'] / 100 + 1e-9, 2)
    if abs(want - l['amount']) > 0.0101:
        bad.append(f"{l['item']}: amount {l['amount']}, quantity times price gives {want}")
    total += l['amount']
if lines and abs(total - t['cost']['total']) > 0.005:
    bad.append(f"cost: total {t['cost']['total']}, the lines give {total:.2f}")
# Phases: every sheet has to be there for one; sheets made to order are flagged (wider than 4 ft, longer than 12 ft).
if t.get('phases') and sum(p['sheets'] for p in t['phases']) != len(t['sheets']):
    bad.append(f"phases: {sum(p['sheets'] for p in t['phases'])} sheets, {len(t['sheets'])} are laid out")
named = {b['name']: b['special_order'] for b in t['job']['boards']}
for o in t['order']:
    if o['item'] == 'board':
        want = o['width_mm'] > 1221 or o['length_mm'] > 3661 or named.get(o['spec'], False)
        if o.get('special_order', False) != want:
            bad.append(f"{o['spec']} {o['width_mm']} x {o['length_mm']}: special order {o.get('special_order', False)}")
for line in bad[:20]:
    print('  ', line)
print(f"pieces: {len(t['pieces'])} pieces, {len(t['sheets'])} sheets + {allow} allowance, {screws} screws, {len(bad)} differences")
sys.exit(1 if bad else 0)
