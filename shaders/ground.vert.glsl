// The ground: a rectangle under the bodies.
uniform mat4 to_clip;
uniform vec4 ground;
uniform vec3 across;
uniform vec3 upward;
uniform vec4 span;

out vec2 at;

void main() {
  vec2 corner = vec2(gl_VertexID & 1, gl_VertexID >> 1) * 2.0 - 1.0;
  at = corner * 0.5 + 0.5;
  vec3 p = ground.xyz * ground.w + across * (span.x + corner.x * span.z) + upward * (span.y + corner.y * span.w);
  gl_Position = to_clip * vec4(p, 1.0);
}
