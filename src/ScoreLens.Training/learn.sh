#!/usr/bin/env bash
# Learns the shipped weights anew: features from the corpus's open part, six teachers, one student, the weights file.
#   src/ScoreLens.Training/learn.sh CORPUS WORKFOLDER
# Needs the .NET SDK, python3 with PyTorch, and a CUDA GPU (about twelve minutes on one of the 80 GB class).
set -euo pipefail
corpus=$1 work=$2
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$work"
dotnet run -c Release --project "$here" -- export "$corpus" "$work/data"
learn() { python3 "$here/learn.py" "$work/data" "$work/$1" --power .5 --sampling .5 "${@:2}"; }
learn t1 --epochs 720 --drop-planes .1 --seed 11
learn t2 --epochs 620 --smooth-pair .1 --seed 12
learn t3 --epochs 690 --attention 1 --drop-planes .05 --dropout .35 --seed 13
learn t4 --epochs 430 --hidden 192 --dropout .4 --smooth-pair .05 --seed 14
learn t5 --epochs 720 --handbook .05 --smooth .1 --dropout .4 --drop-planes .05 --seed 15
learn t6 --epochs 615 --power .75 --sampling .65 --drop-planes .1 --smooth-pair .1 --seed 16
learn student --epochs 393 --hidden 96 --dropout .15 --soft .8 --seed 22 --teachers "$work"/t[1-6].pt
cp "$work/student.bin" "$here/../ScoreLens/Reading/Model/weights.bin"
