"""Compare a workbook as written (cached values) with LibreOffice's recalculation of it, cell by cell, and its totals
with takeoff.json. usage: workbook.py OURS.xlsx RECALCULATED.xlsx TAKEOFF.json"""
import json, sys
import openpyxl

ours, theirs = (openpyxl.load_workbook(p, data_only=True) for p in sys.argv[1:3])
formulas = openpyxl.load_workbook(sys.argv[1])
take = json.load(open(sys.argv[3]))
bad, cells, nform = [], 0, 0
if ours.sheetnames != theirs.sheetnames:
    bad.append(f'sheets differ: {ours.sheetnames} {theirs.sheetnames}')
for name in ours.sheetnames:
    a, b, f = ours[name], theirs[name], formulas[name]
    for row in f.iter_rows():
        for c in row:
            if c.value is None:
                continue
            cells += 1
            va, vb = a[c.coordinate].value, b[c.coordinate].value
            if isinstance(c.value, str) and c.value.startswith('='):
                nform += 1
                if va is None:
                    bad.append(f'{name}!{c.coordinate}: formula without a cached value')
            if isinstance(va, (int, float)) and isinstance(vb, (int, float)):
                if abs(va - vb) > 0.005 + 1e-9 * abs(va):
                    bad.append(f'{name}!{c.coordinate}: {va} here, {vb} recalculated ({c.value})')
            elif va != vb and not (va in (None, '') and vb in (None, '')):
                bad.append(f'{name}!{c.coordinate}: {va!r} here, {vb!r} recalculated')


def total(sheet, head):
    """The number under the header cell `head` in the first total row of a sheet."""
    ws = theirs[sheet]
    for row in ws.iter_rows():
        for c in row:
            if c.value == head:
                last = None
                for r in range(c.row + 1, ws.max_row + 1):
                    v = ws.cell(r, c.column).value
                    if v is None:
                        break
                    last = v
                return last
    return None


if 'cost' in take:
    got = total('Prices', 'Amount')
    if got is None or abs(got - take['cost']['total']) > 0.01:
        bad.append(f"Prices: total {got}, takeoff.json says {take['cost']['total']}")
n = sum(s['count'] for s in take['screws'])
if total('Fasteners', 'Count') != n:
    bad.append(f"Fasteners: total {total('Fasteners', 'Count')}, takeoff.json has {n} screws")
pieces = total('Board schedule', 'Count')
if pieces != len(take['pieces']):
    bad.append(f"Board schedule: {pieces} pieces, takeoff.json has {len(take['pieces'])}")
# A page for each drop: its sheets and their weight are the order's of that storey.
drops = [n for n in ours.sheetnames if n.startswith('Drop')]
storeys = sorted({o['storey'] for o in take['order'] if o['item'] == 'board'})
if len(drops) != len(storeys):
    bad.append(f'{len(drops)} pages for {len(storeys)} drops')
for name, storey in zip(drops, storeys):
    lines = [o for o in take['order'] if o['item'] == 'board' and o['storey'] == storey]
    count = sum(o['count'] + o.get('allowance', 0) for o in lines)
    mass = sum(o['mass_kg'] for o in lines) / (0.45359237 if take['job']['system'] == 'inch-pound' else 1)
    head = 'lb' if take['job']['system'] == 'inch-pound' else 'kg'
    if total(name, 'Sheets') != count or abs(total(name, head) - mass) > 0.001 * mass:
        bad.append(f"{name}: {total(name, 'Sheets')} sheets, {total(name, head)} {head}; takeoff.json orders {count}, {mass:.1f}")
for line in bad[:20]:
    print('  ', line)
print(f'workbook: {len(ours.sheetnames)} sheets, {cells} cells, {nform} formulas, {len(bad)} differences')
sys.exit(1 if bad or nform == 0 else 0)
