"""Decode a clip and run the landmark net on every picture with ONNX Runtime: what reading is held against.

Needs: pip install onnxruntime numpy zstandard; ffmpeg. Usage: net_on_every_picture.py CLIP [THREADS]
The net is given the picture shrunk to its input: what it sees does not change what it costs.
"""

import subprocess
import sys

import numpy as np
import onnxruntime
import zstandard

SIDE = 256
NET = "models/pose_landmark_full_with_mask.onnx.zst"

clip = sys.argv[1]
threads = int(sys.argv[2]) if len(sys.argv) > 2 else 1
with open(NET, "rb") as packed:
    net = zstandard.ZstdDecompressor().stream_reader(packed).read()
options = onnxruntime.SessionOptions()
options.intra_op_num_threads = threads
session = onnxruntime.InferenceSession(net, options, providers=["CPUExecutionProvider"])
place = session.get_inputs()[0].name
# The body mask is not asked for, as in reading.
wanted = [o.name for o in session.get_outputs() if o.name != "Identity_2"]
scaled = ["-vf", f"scale={SIDE}:{SIDE}", "-f", "rawvideo", "-pix_fmt", "rgb24", "-"]
decoder = subprocess.Popen(["ffmpeg", "-v", "error", "-i", clip, *scaled], stdout=subprocess.PIPE)
count = 0
while len(pixels := decoder.stdout.read(SIDE * SIDE * 3)) == SIDE * SIDE * 3:
    picture = np.frombuffer(pixels, np.uint8).reshape(1, SIDE, SIDE, 3).astype(np.float32) / 255
    session.run(wanted, {place: picture})
    count += 1
if decoder.wait() != 0 or count == 0:
    sys.exit("the clip did not decode")
print(count)
