#!/usr/bin/env bash
# Publishes the service with everything it needs and puts it into an image. Needs the .NET 10 SDK and a Docker engine; no image is pulled
# but the base.
set -euo pipefail

case "${1:-}" in
  "") ;;
  -h|--help) cat <<'TEXT'
Build the image of the service.

  deploy/build-image.sh

IMAGE        its name (default axletelemetry:local)
BASE_IMAGE   what it stands on (default debian:bookworm-slim); local-images.sh makes one where nothing can be pulled
RUNTIME      linux-x64 (default) or linux-arm64

Exit code: 0 built, 2 bad input, another: what failed has said why.
TEXT
    exit 0 ;;
  *) echo "build-image.sh: '$1' is not known. It takes no arguments; --help says what it takes from the environment." >&2; exit 2 ;;
esac

cd "$(dirname "$0")/.."
image=${IMAGE:-axletelemetry:local} base=${BASE_IMAGE:-debian:bookworm-slim} runtime=${RUNTIME:-linux-x64}
case $runtime in linux-x64|linux-arm64) ;; *) echo "build-image.sh: RUNTIME '$runtime' is not known. Right is linux-x64 or linux-arm64." >&2; exit 2 ;; esac

context=$(mktemp -d)
trap 'rm -rf "$context"' EXIT
dotnet publish src/AxleTelemetry.Service -c Release -r "$runtime" --self-contained -nologo -v quiet -o "$context/published"
cp deploy/Dockerfile "$context/"
# The older builder is in every engine; the newer one needs a plug-in.
docker buildx version >/dev/null 2>&1 || export DOCKER_BUILDKIT=0
said=$(docker build --build-arg BASE_IMAGE="$base" -t "$image" "$context" 2>&1) || { echo "$said" >&2; exit 1; }
echo "$image on $base"
