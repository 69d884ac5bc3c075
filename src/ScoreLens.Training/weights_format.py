"""The layout of the reading model's weights file, for learn.py and for the test that holds writer and reader to each other.

weights-format.json, beside the reader, names what both count by position. A file is: the magic SLRM; the version and the length of the
header (32 bits each, little-endian); a JSON header; the numbers. A matrix is stored as one byte a weight, after a scale in half precision
for each of its rows; everything else in half precision.
"""
import json, os, struct

HERE = os.path.dirname(os.path.abspath(__file__))
PLACES = [os.path.join(HERE, 'weights-format.json'), os.path.join(HERE, '..', 'ScoreLens', 'Reading', 'Model', 'weights-format.json')]
FORMAT = json.load(open(next(p for p in PLACES if os.path.exists(p)), encoding='utf-8'))
NAMED = ('places', 'planes', 'scalars', 'modes', 'qualities')


def check(named):
    """Fails where exported data or a file's header name other things, or in another order, than the format."""
    for key in NAMED:
        if named[key] != FORMAT[key]: raise SystemExit(f'{key} are not those of weights-format.json: {named[key]}')


def matrix(rows):
    """Bytes of a matrix: a scale for each row, then a byte for each number."""
    scales = [struct.unpack('<e', struct.pack('<e', max(max(map(abs, row)) / 127, 1e-7)))[0] for row in rows]
    numbers = bytearray()
    for row, scale in zip(rows, scales): numbers += struct.pack(f'<{len(row)}b', *(max(-127, min(127, round(x / scale))) for x in row))
    return struct.pack(f'<{len(scales)}e', *scales) + bytes(numbers)


def write(path, vocabulary, networks):
    """Writes a file from numerals as [mode, root, target or None, quality, inversion], all names, and networks: each a pair of its
    sizes by name and its arrays by name, an array being a list of numbers or, for a matrix, of rows."""
    parts, headers, at = [], [], 0
    for sizes, arrays in networks:
        places = []
        for name, value in arrays.items():
            rows = len(value) if isinstance(value[0], (list, tuple)) else 0
            data = matrix(value) if rows else struct.pack(f'<{len(value)}e', *value)
            places.append(dict(name=name, rows=rows, count=sum(map(len, value)) if rows else len(value), at=at))
            parts.append(data); at += len(data)
        headers.append({name: sizes[name] for name in FORMAT['sizes']} | dict(arrays=places))
    header = {key: FORMAT[key] for key in NAMED} | dict(vocabulary=vocabulary, networks=headers)
    text = json.dumps(header, separators=(',', ':')).encode()
    with open(path, 'wb') as f: f.write(b'SLRM' + struct.pack('<ii', FORMAT['version'], len(text)) + text + b''.join(parts))


def read(path):
    """The header of a file and, for each network, its sizes and its arrays: lists of numbers, or of rows."""
    with open(path, 'rb') as f: data = f.read()
    version, length = struct.unpack_from('<ii', data, 4)
    if data[:4] != b'SLRM' or version != FORMAT['version']: raise SystemExit(f'{path} is no weights file of version {FORMAT["version"]}')
    header = json.loads(data[12:12 + length])
    start = 12 + length
    networks = []
    for network in header['networks']:
        arrays = {}
        for a in network['arrays']:
            at, rows = start + a['at'], a['rows']
            if not rows:
                arrays[a['name']] = list(struct.unpack_from(f'<{a["count"]}e', data, at))
                continue
            scales, width = struct.unpack_from(f'<{rows}e', data, at), a['count'] // rows
            numbers = struct.unpack_from(f'<{a["count"]}b', data, at + 2 * rows)
            arrays[a['name']] = [[scales[r] * n for n in numbers[r * width:(r + 1) * width]] for r in range(rows)]
        networks.append(({k: v for k, v in network.items() if k != 'arrays'}, arrays))
    return header, networks
